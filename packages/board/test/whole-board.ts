/** An invented two-channel board that uses every kind of part, every kind of type and every key of the format. */
export const wholeBoard = `board: 1
title: Larkfield LK 417, phono card
channels: [left, right]
common: [vq]
rails:
  vcc: { volts: 31 V, resistance: 1 Ω, ripple: 20 mV, ripple_frequency: 120 Hz, harmonics: [0.25, 0.1] }
  vee: { volts: -15 V }
input:  { node: in }
output: { node: out, load: { resistance: 100 kΩ, capacitance: 330 pF } }
loop: { lead: Q104.base }
parts:
  R101/R102: { kind: resistor, build: carbon_film, value: 47 kΩ, tolerance: 5 %, rated: 0.25 W, noise_index: -10 dB, between: [in, gnd] }
  C101/C102: { kind: capacitor, build: tantalum, value: 0.68 µF, tolerance: -20/+80 %, rated: 35 V, plus: b1, minus: in,
               esr: { value: 4 Ω, at: 100 kHz }, leakage: 0.5 µA, loss: 0.04,
               seat: { pitch: [5 mm, 7.5 mm], height: 12 mm, diameter: 8 mm }, body: { pitch: 5 mm } }
  C103/C104: { kind: capacitor, value: 330n, between: [a, b], esr: 4 Ω, leakage: 20 MΩ }
  L101/L102: { kind: inductor, value: 10 mH, resistance: 3 Ω, between: [a, b] }
  VR101/VR102: { kind: trimmer, value: 10 kΩ, turn: 40 %, between: [a, b], wiper: s }
  S101/S102: { kind: switch, pole: a, positions: { flat: b, riaa: c1 }, at: riaa }
  Q101/Q102: { type: HN-A, collector: c1, base: b1, emitter: e1, seat: { holes: ECB } }
  Q103/Q104: { type: HP-A, collector: gnd, base: c1, emitter: out }
  D103: { type: DB-A, anode: vq, cathode: gnd, seat: { pitch: 10 mm } }
  D104: { type: ZD-A, cathode: vq, anode: e1@left }
  U101A/U101B: { type: OA-A, plus: p, minus: m, out: o, rails: [vcc, vee] }
  J101/J102: { type: JF-A, drain: d, gate: g, source: s }
  V101A/V101B: { type: TR-A, cathode: tk, grid: tg, anode: ta }
types:
  HN-A: { kind: npn, hFE: { low: 200, typical: 320, high: 500, at: 0.1 mA }, VBE: { value: 600 mV, at: 1 mA }, early_voltage: 90 V,
          fT: { value: 150 MHz, at: 5 mA }, Cob: 3 pF, Cib: 6 pF, rbb: 120 Ω, noise_corner: 300 Hz,
          VCEO: 50 V, VEBO: 5 V, IC: 100 mA, Ptot: 300 mW, case_leads: ECB }
  HP-A: { kind: pnp, hFE: [{ typical: 200, at: 10 mA }, { value: 100, at: 0.1 mA }], VBE: { value: 620 mV, at: 1 mA }, fT: 80 MHz,
          case_leads: { order: BCE, view: below_flat_up } }
  DB-A: { kind: diode, VF: [{ value: 1.35 V, at: 10 mA }, { value: 1.2 V, at: 1 mA }] }
  DS-A: { kind: diode, VF: { value: 0.6 V, at: 1 mA }, ideality: 1.8 }
  ZD-A: { kind: zener, VZ: { value: 12 V, at: 5 mA }, rz: 10 Ω, VF: { value: 0.7 V, at: 10 mA } }
  OA-A: { kind: opamp, gain: 100 dB, GBW: 8 MHz, Rout: 50 Ω, swing: { above: 1.5 V, below: 1 V }, en: 4 nV/√Hz, en_corner: 30 Hz,
          in: 0.5 pA/√Hz, in_corner: 100 Hz, PSRR: 80 dB }
  JF-A: { kind: jfet-n, IDSS: 6 mA, VGS_off: -1 V, yos: 20 µS, Crss: 4 pF, Ciss: 15 pF, en: 2 nV/√Hz, en_corner: 40 Hz }
  JP-A: { kind: jfet-p, IDSS: 6 mA, VGS_off: 1.5 V }
  TR-A: { kind: triode, mu: 100, rp: 62.5 kΩ, at: { Va: 250 V, Ia: 1.2 mA }, Cag: 1.7 pF, Cgk: 1.6 pF, Cak: 0.4 pF, en: 3 nV/√Hz }
matched: [Q101/Q102, R101/R102]
cartridges:
  MM-A: { resistance: 800 Ω, inductance: 480 mH, cable: 150 pF, output: 5 mV }
limits: { deviation: { good: 0.6 dB }, node_volts: { look: 30 %, floor: 20 mV }, stability: { margin: 50 ° } }
`;

/** A board of one channel with as little as a board can have. */
export const smallBoard = `board: 1
title: invented, one channel
input: { node: in }
output: { node: out }
parts:
  R1: { kind: resistor, value: 1 kΩ, between: [in, out] }
  R2: { kind: resistor, value: 2k2, between: [out, gnd] }
`;
