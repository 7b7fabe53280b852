// Listens to the phone while it rides along, and writes what it hears into the buffer.
import { newId } from "@/base/blobs";
import { type Kept, putHead, putPiece } from "./buffer";
import { type Fix, HEADING, type Lies, lineOf, nameOf, signOf } from "./model";

const PIECE = 3000; // ms of recording in a piece: what a flat battery costs at most

export interface Heard {
  seconds: number;
  samples: number;
  perSecond: number;
  fixes: number;
  accuracy: number | null; // m
  isAwake: boolean;
  isLyingAsSaid: boolean;
  trouble: string | null;
}

export interface Recording {
  stop: () => Promise<Kept>;
}

type WithPermission = { requestPermission?: () => Promise<string> };

// Some phones ask the person first; the question may only be put from a tap.
export async function mayListen(): Promise<boolean> {
  const motion = (globalThis as { DeviceMotionEvent?: WithPermission }).DeviceMotionEvent;
  if (!motion?.requestPermission) return true;
  try {
    return (await motion.requestPermission()) === "granted";
  } catch {
    return false;
  }
}

export async function record(lies: Lies, tell: (heard: Heard) => void): Promise<Recording> {
  const begun = performance.now();
  const head: Kept = {
    id: newId(),
    name: nameOf(new Date()),
    started: new Date().toISOString(),
    seconds: 0,
    isDone: false,
  };
  await putHead(head);
  const heard: Heard = {
    seconds: 0,
    samples: 0,
    perSecond: 0,
    fixes: 0,
    accuracy: null,
    isAwake: false,
    isLyingAsSaid: true,
    trouble: null,
  };
  let lines: string[] = [HEADING];
  let sign: 1 | -1 | null = null;
  let fix: Fix | null = null;
  let saving = Promise.resolve<unknown>(undefined);

  const onMotion = (e: DeviceMotionEvent) => {
    const [a, r] = [e.accelerationIncludingGravity, e.rotationRate];
    if (a?.x == null || a.y == null || a.z == null) return;
    if (r?.alpha == null || r.beta == null || r.gamma == null) {
      heard.trouble = "This phone tells no turning rates (it has no gyroscope). Its recording cannot show lean.";
      return;
    }
    const force = [a.x, a.y, a.z] as const;
    const found = signOf(lies, force);
    sign ??= found;
    heard.isLyingAsSaid = found !== null || heard.samples > 0;
    if (sign === null) return; // waits until it lies as was said
    const time = (e.timeStamp - begun) / 1000;
    lines.push(lineOf({ time, force, rate: [r.alpha, r.beta, r.gamma] }, sign, fix));
    fix = null;
    heard.samples++;
    heard.seconds = time;
  };
  const onPlace = (p: GeolocationPosition) => {
    const { speed, heading, latitude, longitude, accuracy } = p.coords;
    fix = {
      time: 0,
      speed,
      course: heading !== null && Number.isFinite(heading) ? heading : null,
      latitude,
      longitude,
    };
    heard.fixes++;
    heard.accuracy = accuracy;
  };
  const save = () => {
    head.seconds = heard.seconds;
    const text = lines.length > 0 ? `${lines.join("\n")}\n` : "";
    lines = [];
    saving = saving
      .then(() => putPiece({ ...head }, text))
      .catch(() => {
        heard.trouble = "This browser’s store is full: what comes now is not kept. Stop, and let it be sent.";
      });
    return saving;
  };

  let lock: { release: () => Promise<void> } | null = null;
  const stayAwake = async () => {
    if (document.visibilityState !== "visible") return;
    try {
      lock = await navigator.wakeLock.request("screen");
      heard.isAwake = true;
    } catch {
      heard.isAwake = false;
    }
  };
  addEventListener("devicemotion", onMotion);
  document.addEventListener("visibilitychange", stayAwake);
  const watch = navigator.geolocation?.watchPosition(onPlace, () => undefined, {
    enableHighAccuracy: true,
    maximumAge: 0,
  });
  await stayAwake();
  let before = 0;
  const second = setInterval(() => {
    heard.perSecond = heard.samples - before;
    before = heard.samples;
    tell({ ...heard });
  }, 1000);
  const piece = setInterval(save, PIECE);

  return {
    stop: async () => {
      removeEventListener("devicemotion", onMotion);
      document.removeEventListener("visibilitychange", stayAwake);
      if (watch !== undefined) navigator.geolocation.clearWatch(watch);
      clearInterval(second);
      clearInterval(piece);
      head.isDone = true;
      await save();
      await lock?.release().catch(() => undefined);
      return head;
    },
  };
}
