// The bar in space, as line art: ink outline, paper body, stress by the dye's strength. Loaded only when it is shown.
// Drawn on request, never in a loop: a still picture costs nothing.
import {
  AmbientLight,
  BackSide,
  BufferAttribute,
  BufferGeometry,
  Color,
  DirectionalLight,
  DoubleSide,
  Group,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  PerspectiveCamera,
  Scene,
  Vector3,
  WebGLRenderer,
} from "three";
import { type Station, type Vec3, vec } from "./barLine";

export interface Bar3DInput {
  line: readonly Station[];
  shape: readonly Vec3[]; // the stations, twisted
  radiusAt: (s: number) => number;
  stressAt: ((s: number) => number) | null;
  fullMpa: number;
  bushings: readonly { point: Vec3; width: number }[];
  colours: { paper: string; ink: string; dye: string; faint: string; line: string };
}

const AROUND = 20; // facets of the round

export class ThreeBar {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera(28, 2, 10, 20000);
  private readonly group = new Group();
  // Made once: a new material would have its shader compiled anew, which takes longer than all the rest.
  private readonly outline = new MeshBasicMaterial({ side: BackSide });
  private readonly steel = new MeshLambertMaterial({ vertexColors: true, side: DoubleSide });
  private readonly rubber = new MeshLambertMaterial({ side: DoubleSide });
  private yaw = -0.42;
  private pitch = 0.55;
  private reach = 700;

  constructor(private readonly canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.scene.add(this.group, new AmbientLight(0xffffff, 1.9));
    const sun = new DirectionalLight(0xffffff, 1.6);
    sun.position.set(-400, -900, 1400);
    this.scene.add(sun);
    this.camera.up.set(0, 0, 1);
  }

  draw(input: Bar3DInput) {
    this.clear();
    this.reach = Math.max(...input.line.map((q) => Math.hypot(...q.p)));
    this.renderer.setClearColor(new Color(input.colours.paper), 0);
    this.outline.color.set(input.colours.ink);
    this.rubber.color.set(input.colours.line);
    const body = tube(input, 1);
    const hull = tube(input, 1.0, 2.6);
    this.group.add(new Mesh(hull, this.outline));
    this.group.add(new Mesh(body, this.steel));
    for (const b of input.bushings) this.addBushing(b, input);
    this.render();
  }

  turn(dx: number, dy: number) {
    this.yaw -= dx * 0.008;
    this.pitch = Math.max(-0.2, Math.min(1.4, this.pitch + dy * 0.006));
    this.render();
  }

  // Where a point of the bar is on the canvas, as fractions; the hole buttons are put there.
  place(p: Vec3): { x: number; y: number } {
    const v = new Vector3(...p).project(this.camera);
    return { x: (v.x + 1) / 2, y: (1 - v.y) / 2 };
  }

  render() {
    const { clientWidth: w, clientHeight: h } = this.canvas;
    if (w === 0 || h === 0) return;
    this.renderer.setPixelRatio(Math.min(2, devicePixelRatio || 1));
    this.renderer.setSize(w, h, false);
    this.camera.aspect = w / h;
    // Far enough that the whole bar fits, also in a narrow picture.
    const far = (this.reach * 1.85) / Math.min(0.62, this.camera.aspect / 3.4);
    this.camera.position.set(
      -far * Math.cos(this.pitch) * Math.cos(this.yaw),
      far * Math.cos(this.pitch) * Math.sin(this.yaw),
      far * Math.sin(this.pitch),
    );
    this.camera.lookAt(-this.reach * 0.18, 0, 0);
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld();
    this.renderer.render(this.scene, this.camera);
  }

  close() {
    this.clear();
    for (const material of [this.outline, this.steel, this.rubber]) material.dispose();
    this.renderer.dispose();
  }

  private addBushing(b: { point: Vec3; width: number }, input: Bar3DInput) {
    const r = input.radiusAt(input.line.at(-1)!.s / 2) + 9;
    const w = Math.max(24, b.width);
    const line = [-w / 2, w / 2].map((d, i) => ({ s: i, p: vec.add(b.point, [0, 1, 0], d), t: [0, 1, 0] as Vec3 }));
    const block: Bar3DInput = { ...input, line, shape: line.map((q) => q.p), radiusAt: () => r, stressAt: null };
    this.group.add(new Mesh(tube(block, 1, 2.4), this.outline));
    this.group.add(new Mesh(tube(block, 1), this.rubber));
  }

  private clear() {
    for (const child of [...this.group.children]) {
      this.group.remove(child);
      if (child instanceof Mesh) {
        child.geometry.dispose();
      }
    }
  }
}

// Rings of points around the line, closed at both ends, coloured by stress. `extra` makes the outline hull.
function tube(input: Bar3DInput, factor: number, extra = 0): BufferGeometry {
  const n = input.shape.length;
  const positions = new Float32Array((n * AROUND + 2) * 3);
  const colours = new Float32Array((n * AROUND + 2) * 3);
  const [paper, dye, faint] = [input.colours.paper, input.colours.dye, input.colours.faint].map((c) => new Color(c));
  let side: Vec3 = [0, 0, 1];
  const mixed = new Color();
  for (let i = 0; i < n; i++) {
    const t = vec.unit(vec.sub(input.shape[Math.min(n - 1, i + 1)]!, input.shape[Math.max(0, i - 1)]!));
    side = vec.unit(vec.sub(side, vec.scaled(t, vec.dot(side, t)))); // carried along without spinning
    const other = vec.cross(t, side);
    const s = input.line[i]!.s;
    const r = input.radiusAt(s) * factor + extra;
    mixed.copy(paper!);
    if (input.stressAt) {
      const mpa = input.stressAt(s);
      const strength = Math.max(0, Math.min(1, mpa / input.fullMpa));
      mixed.lerp(faint!, Math.min(1, strength * 2.5) * 0.6).lerp(dye!, strength);
    }
    for (let k = 0; k < AROUND; k++) {
      const a = (2 * Math.PI * k) / AROUND;
      const q = vec.add(vec.add(input.shape[i]!, side, r * Math.cos(a)), other, r * Math.sin(a));
      positions.set(q, (i * AROUND + k) * 3);
      colours.set([mixed.r, mixed.g, mixed.b], (i * AROUND + k) * 3);
    }
  }
  const ends = [input.shape[0]!, input.shape[n - 1]!];
  ends.forEach((p, e) => {
    positions.set(p, (n * AROUND + e) * 3);
    colours.set([paper!.r, paper!.g, paper!.b], (n * AROUND + e) * 3);
  });
  const index: number[] = [];
  for (let k = 0; k < AROUND; k++) {
    const k1 = (k + 1) % AROUND;
    for (let i = 0; i + 1 < n; i++) {
      const [a, b, c, d] = [i * AROUND + k, i * AROUND + k1, (i + 1) * AROUND + k, (i + 1) * AROUND + k1];
      index.push(a, b, c, b, d, c);
    }
    index.push(n * AROUND, k1, k, n * AROUND + 1, (n - 1) * AROUND + k, (n - 1) * AROUND + k1);
  }
  const g = new BufferGeometry();
  g.setAttribute("position", new BufferAttribute(positions, 3));
  g.setAttribute("color", new BufferAttribute(colours, 3));
  g.setIndex(index);
  g.computeVertexNormals();
  return g;
}
