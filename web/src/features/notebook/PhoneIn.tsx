// How a phone gets in: a code to read with its camera, shown on this machine only.
import { useEffect, useState } from "preact/hooks";
import { hrefOf } from "@/base/route";

interface Way {
  is_open: boolean;
  address: string;
  code: string;
  fingerprint: string;
  devices: number;
  qr_path: string;
  qr_size: number;
}

export function PhoneIn() {
  const [way, setWay] = useState<Way | null>(null);
  useEffect(() => {
    let isGone = false;
    const look = async () => {
      try {
        const reply = await fetch("./api/lan");
        if (reply.ok && !isGone) setWay((await reply.json()) as Way);
      } catch {
        // the sheet says already that the program is away
      }
    };
    void look();
    const often = setInterval(look, 5000);
    return () => {
      isGone = true;
      clearInterval(often);
    };
  }, []);
  return (
    <>
      <p>
        <a href={hrefOf("record")}>Record with this phone</a>: on a phone, the browser itself can be the recorder.
      </p>
      {way?.is_open ? (
        <div class="way-in">
          <svg
            viewBox={`-4 -4 ${way.qr_size + 8} ${way.qr_size + 8}`}
            role="img"
            aria-label="Code for the phone’s camera; the same is written beside it"
          >
            <rect x={-4} y={-4} width={way.qr_size + 8} height={way.qr_size + 8} fill="#fff" />
            <path d={way.qr_path} fill="#000" shape-rendering="crispEdges" />
          </svg>
          <div>
            <p>
              Point the phone’s camera here, or open the address by hand. The code is <b class="num">{way.code}</b>. It
              works once; then the next one stands here.
            </p>
            <p class="note cut-anywhere">{way.address}</p>
            <p>
              Anybody on this network sees that the program is there; only a device with the code gets in, and then
              reads and changes everything until the program is stopped. Paired now: {way.devices}.
            </p>
            <p>
              The phone’s browser warns at the first visit, because this machine made its certificate itself. If it
              shows a fingerprint (SHA-256), it is
            </p>
            <p class="note cut-anywhere">{way.fingerprint}</p>
          </div>
        </div>
      ) : (
        <p>
          To use this page on a phone in the same network, stop the program and start it with{" "}
          <code>rollwright serve --lan</code>. It then shows a code for the phone’s camera here and in the terminal.
        </p>
      )}
    </>
  );
}
