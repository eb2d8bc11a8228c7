import type { BipolarType, Circuit, Part } from '@curvewright/board';
import { capacitor, circuit, rail, resistor, typed } from './circuits.ts';
import type { Draws } from './random.ts';
import { someBipolar, someDiode, someJfet } from './random-types.ts';

/** One channel as it is being drawn: what stands between its supply node and gnd. */
interface Sheet {
  readonly draws: Draws;
  readonly parts: Part[];
  readonly supply: string;
  /** V of the supply, a magnitude; with `turned` the supply is negative and every polarity changes sides. */
  readonly volts: number;
  readonly turned: boolean;
  /** Number of the channel: first digit of its designators and tail of its nodes. */
  readonly channel: number;
}

/** V of a conducting base, as one reckons on the bench. */
const junctionVolts = 0.62;

const at = (sheet: Sheet, node: string): string =>
  node === 'gnd' || node === sheet.supply ? node : `${node}@${sheet.channel}`;

function add(sheet: Sheet, part: (ref: string) => Part, letter: string): void {
  sheet.parts.push(part(`${letter}${sheet.channel}${String(sheet.parts.length).padStart(2, '0')}`));
}

/** The nearest value of E24, as the shop has it. */
function preferred(ohms: number): number {
  const decade = 10 ** Math.floor(Math.log10(ohms));
  const series = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91, 100];
  const distance = (value: number): number => Math.abs(Math.log((value * decade) / 10 / ohms));
  return (series.reduce((best, value) => (distance(value) < distance(best) ? value : best)) * decade) / 10;
}

function ohmsBetween(sheet: Sheet, ohms: number, a: string, b: string): void {
  add(sheet, (ref) => resistor(ref, preferred(ohms), at(sheet, a), at(sheet, b)), 'R');
}

function faradsBetween(sheet: Sheet, farads: number, a: string, b: string): void {
  add(sheet, (ref) => capacitor(ref, farads, at(sheet, a), at(sheet, b)), 'C');
}

/** A transistor that conducts towards gnd, or with `upside` one that conducts from the supply. */
function transistor(sheet: Sheet, collector: string, base: string, emitter: string, upside = false): void {
  const kind: BipolarType['kind'] = sheet.turned === upside ? 'npn' : 'pnp';
  const leads = { collector: at(sheet, collector), base: at(sheet, base), emitter: at(sheet, emitter) };
  const type = someBipolar(sheet.draws, kind);
  add(sheet, (ref) => typed(ref, type, leads), 'Q');
}

function diode(sheet: Sheet, high: string, low: string): void {
  const [anode, cathode] = sheet.turned ? [low, high] : [high, low];
  const type = someDiode(sheet.draws);
  add(sheet, (ref) => typed(ref, type, { anode: at(sheet, anode), cathode: at(sheet, cathode) }), 'D');
}

/** Divider at the base, resistor at the emitter, bypassed or not. */
function dividerBias(sheet: Sheet): string {
  const { draws, volts, supply } = sheet;
  const amps = draws.log(50e-6, 2e-3);
  const emitter = volts * draws.even(0.08, 0.2);
  const string = amps / draws.even(5, 15);
  faradsBetween(sheet, 1e-6, 'in', 'b');
  ohmsBetween(sheet, (volts - emitter - junctionVolts) / string, supply, 'b');
  ohmsBetween(sheet, (emitter + junctionVolts) / string, 'b', 'gnd');
  ohmsBetween(sheet, (volts * draws.even(0.35, 0.55)) / amps, supply, 'c');
  ohmsBetween(sheet, emitter / amps, 'e', 'gnd');
  if (draws.chance(0.5)) faradsBetween(sheet, 47e-6, 'e', 'gnd');
  transistor(sheet, 'c', 'b', 'e');
  return 'c';
}

/** Base current from the transistor's own collector. */
function collectorFeedback(sheet: Sheet): string {
  const { draws, volts, supply } = sheet;
  const amps = draws.log(50e-6, 2e-3);
  const emitter = draws.pick([0, 0.1, 0.5]);
  faradsBetween(sheet, 1e-6, 'in', 'b');
  ohmsBetween(sheet, (volts * 0.5) / amps, supply, 'c');
  ohmsBetween(sheet, ((volts * 0.5 - emitter - junctionVolts) * draws.log(100, 500)) / amps, 'c', 'b');
  if (emitter > 0) ohmsBetween(sheet, emitter / amps, 'e', 'gnd');
  transistor(sheet, 'c', 'b', emitter > 0 ? 'e' : 'gnd');
  return 'c';
}

/** A string of two diodes holds the base, which takes its current from there through a resistor. */
function diodeBias(sheet: Sheet): string {
  const { draws, volts, supply } = sheet;
  const amps = draws.log(50e-6, 2e-3);
  ohmsBetween(sheet, (volts - 2 * junctionVolts) / draws.log(50e-6, 2e-3), supply, 'd');
  diode(sheet, 'd', 'd2');
  diode(sheet, 'd2', 'gnd');
  ohmsBetween(sheet, draws.log(2e3, 20e3), 'd', 'b');
  faradsBetween(sheet, 1e-6, 'in', 'b');
  ohmsBetween(sheet, junctionVolts / amps, 'e', 'gnd');
  ohmsBetween(sheet, (volts * draws.even(0.3, 0.5)) / amps, supply, 'c');
  transistor(sheet, 'c', 'b', 'e');
  return 'c';
}

/** Two direct-coupled transistors, the first one's base fed from the second one's emitter. */
function directPair(sheet: Sheet): string {
  const { draws, volts, supply } = sheet;
  const first = draws.log(20e-6, 200e-6);
  const second = draws.log(200e-6, 2e-3);
  const feed = draws.log(47e3, 470e3);
  const emitter1 = draws.even(0.02, 0.3);
  const emitter2 = emitter1 + junctionVolts + (feed * first) / 300;
  faradsBetween(sheet, 1e-6, 'in', 'b');
  ohmsBetween(sheet, (volts - emitter2 - junctionVolts) / (first + second / 300), supply, 'b2');
  ohmsBetween(sheet, emitter1 / first, 'e', 'gnd');
  transistor(sheet, 'b2', 'b', 'e');
  ohmsBetween(sheet, (volts * draws.even(0.3, 0.5)) / second, supply, 'c');
  ohmsBetween(sheet, emitter2 / second, 'e2', 'gnd');
  faradsBetween(sheet, 100e-6, 'e2', 'gnd');
  ohmsBetween(sheet, feed, 'e2', 'b');
  transistor(sheet, 'c', 'b2', 'e2');
  // An equaliser network round both, which carries no direct current.
  faradsBetween(sheet, 22e-6, 'c', 'f');
  ohmsBetween(sheet, 330e3, 'f', 'f2');
  faradsBetween(sheet, 10e-9, 'f', 'f2');
  ohmsBetween(sheet, 27e3, 'f2', 'e');
  return 'c';
}

/** A JFET, and a transistor of the other polarity on its drain resistor. */
function fetAndTransistor(sheet: Sheet): string {
  const { draws, volts, supply } = sheet;
  const type = someJfet(draws, sheet.turned ? 'jfet-p' : 'jfet-n');
  const share = draws.even(0.15, 0.6);
  const amps = type.IDSS * share;
  const drop = draws.even(1.2, 2.5);
  const second = draws.log(0.3e-3, 3e-3);
  ohmsBetween(sheet, 1e6, 'g', 'gnd');
  faradsBetween(sheet, 100e-9, 'in', 'g');
  ohmsBetween(sheet, (type.pinchOff * (1 - Math.sqrt(share))) / amps, 's', 'gnd');
  ohmsBetween(sheet, drop / amps, supply, 'd');
  const leads = { drain: at(sheet, 'd'), gate: at(sheet, 'g'), source: at(sheet, 's') };
  add(sheet, (ref) => typed(ref, type, leads), 'J');
  ohmsBetween(sheet, (drop - junctionVolts) / second, supply, 'e');
  ohmsBetween(sheet, (volts * draws.even(0.3, 0.55)) / second, 'c', 'gnd');
  transistor(sheet, 'c', 'd', 'e', true);
  return 'c';
}

function follower(sheet: Sheet, from: string): string {
  ohmsBetween(sheet, sheet.volts / 2 / sheet.draws.log(0.2e-3, 3e-3), 'ef', 'gnd');
  transistor(sheet, sheet.supply, from, 'ef');
  return 'ef';
}

const stages = { dividerBias, collectorFeedback, diodeBias, directPair, fetAndTransistor };

/** A stage of one to three transistors as the trade builds them, in one or two channels on one supply, decoupled or not. */
export function randomStage(draws: Draws): { readonly what: string; readonly circuit: Circuit } {
  const volts = draws.even(9, 40);
  const turned = draws.chance(0.35);
  const decoupled = draws.chance(0.5);
  const supply = decoupled ? 'vq' : 'vcc';
  const name = draws.pick(Object.keys(stages) as (keyof typeof stages)[]);
  const withFollower = draws.chance(0.5);
  const names = draws.chance(0.5) ? ['left', 'right'] : ['mono'];
  const parts: Part[] = decoupled
    ? [resistor('R901', draws.log(22, 470), 'vcc', 'vq'), capacitor('C901', 220e-6, 'vq', 'gnd')]
    : [];
  for (const channel of names.keys()) {
    const sheet: Sheet = { draws, parts: [], supply, volts, turned, channel: channel + 1 };
    const last = stages[name](sheet);
    faradsBetween(sheet, 10e-6, withFollower ? follower(sheet, last) : last, 'out');
    parts.push(...sheet.parts);
  }
  const channels = names.map((channel, i) => ({
    name: channel,
    input: `in@${i + 1}`,
    output: `out@${i + 1}`,
    load: { resistance: 100e3 },
  }));
  const source = rail('vcc', turned ? -volts : volts, draws.pick([0, 1, 47]));
  return {
    what: `${name}${withFollower ? ' + follower' : ''}${turned ? ', negative supply' : ''}`,
    circuit: circuit([source], parts, { channels, ambient: draws.even(273, 333) }),
  };
}
