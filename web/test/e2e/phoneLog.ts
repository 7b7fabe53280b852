// An invented phone recording with known truth: a car weaving through cones on level ground, the phone flat on the floor,
// x ahead, y left, z up. Lateral acceleration is a windowed sine of constant amplitude; roll follows it as a second-order
// system with steady gain `degPerG`, natural frequency and damping of a usual car; the accelerometer feels
// f_y = a_y·cos φ + g·sin φ [physics §1]; noise is that of a phone (0.03 m/s², 0.2 deg/s, common practice, no source).

const G = 9.80665;
const RATE = 100; // Hz

export interface SlalomTruth {
  degPerG: number;
  seed: number;
  passes?: number;
}

export function slalomLog({ degPerG, seed, passes = 6 }: SlalomTruth): string {
  const random = generator(seed);
  const noise = (sd: number) => sd * Math.sqrt(-2 * Math.log(random() || 1e-12)) * Math.cos(2 * Math.PI * random());
  const natural = 2 * Math.PI * 1.6;
  const damping = 0.3;
  const gain = (degPerG * Math.PI) / 180 / G; // rad per m/s²
  const rows: string[] = ["time_s,acc_x_m_s2,acc_y_m_s2,acc_z_m_s2,gyro_x_rad_s,gyro_y_rad_s,gyro_z_rad_s,speed_m_s"];
  const [rest, drive] = [8, 12]; // s
  let roll = 0;
  let rate = 0;
  const speed = 11.4; // m/s, 41 km/h
  const total = passes * (rest + drive) + rest;
  for (let i = 0; i < total * RATE; i++) {
    const t = i / RATE;
    const phase = t % (rest + drive);
    const pass = Math.floor(t / (rest + drive));
    const s = phase - rest;
    const edge = Math.min(1, Math.max(0, s / 1.5), Math.max(0, (drive - s) / 1.5));
    const side = pass % 2 === 0 ? 1 : -1;
    const wave =
      s > 0 && pass < passes ? side * (4.4 + 0.25 * Math.sin(7 * pass)) * edge * Math.sin(2 * Math.PI * 0.42 * s) : 0;
    // Four small steps of a stable integrator per sample.
    for (let k = 0; k < 4; k++) {
      const push = natural * natural * (gain * wave - roll) - 2 * damping * natural * rate;
      rate += push / (4 * RATE);
      roll += rate / (4 * RATE);
    }
    const yaw = wave / speed;
    const values = [
      t,
      noise(0.03),
      wave * Math.cos(roll) + G * Math.sin(roll) + noise(0.03),
      G * Math.cos(roll) - wave * Math.sin(roll) + noise(0.03),
      rate + noise(0.0035),
      noise(0.0035),
      yaw + noise(0.0035),
      speed,
    ];
    rows.push(values.map((v) => v.toFixed(5)).join(","));
  }
  return `${rows.join("\n")}\n`;
}

function generator(seed: number) {
  let s = seed * 7919 + 17;
  return () => {
    s = (s * 16807) % 2147483647;
    return s / 2147483647;
  };
}
