import type { DiagnosticCode } from '@curvewright/board';

/** What a fault of a file or a circuit means. */
export interface Explanation {
  readonly meaning: string;
  /** What to do about it. */
  readonly remedy: string;
  /** As it was written, and as it should be; absent where nothing was written. */
  readonly example?: readonly [wrong: string, right: string];
}

/** Every code that a refused file can carry. */
export const diagnosticGuide: Readonly<Record<DiagnosticCode, Explanation>> = {
  'yaml-syntax': {
    meaning: 'The text is not YAML 1.2 at this place, so nothing after it can be trusted.',
    remedy: 'Close the bracket or quote, and indent with spaces; what follows a key is one step further in.',
    example: ['R101: { value: 4.7 kΩ', 'R101: { value: 4.7 kΩ }'],
  },
  'not-a-mapping': {
    meaning: 'The file has no keys at all.',
    remedy: 'Write KEY: VALUE, one a line; `curvewright new` writes a file to begin with.',
    example: ['- R101', 'parts:'],
  },
  'missing-key': {
    meaning: 'A figure without which nothing honest can be computed is not there. There is no default for it.',
    remedy: 'Add the key with the figure of the data sheet or the service sheet.',
    example: ['HN-A: { kind: npn }', 'HN-A: { kind: npn, hFE: 320, … }'],
  },
  'unknown-key': {
    meaning: 'A key that means nothing here; it would have been without effect.',
    remedy: 'Correct its spelling, or move it to where it belongs.',
    example: ['valeu: 22 µF', 'value: 22 µF'],
  },
  'wrong-version': {
    meaning: 'The number after board: or job: is that of another version of the format.',
    remedy: 'Write the version this program reads, or use a newer program.',
    example: ['board: 2', 'board: 1'],
  },
  'wrong-form': {
    meaning:
      'The value has another form than this key takes: a list where one value stands, a word that is not among the choices.',
    remedy: 'Write it as the message shows.',
    example: ['kind: resistr', 'kind: resistor'],
  },
  'bare-number': {
    meaning: 'A number without a unit. 104 may be 104 pF, or a code printed on a part that means 100 nF.',
    remedy: 'Write the unit, or an IEC 60062 code with its letter: 4k7.',
    example: ['value: 104', 'value: 100 nF'],
  },
  'comma-decimal': {
    meaning: 'A comma in a number: elsewhere it parts thousands, or the items of a list.',
    remedy: 'Write a point.',
    example: ['value: 2,2 MΩ', 'value: 2.2 MΩ'],
  },
  'unknown-unit': {
    meaning: 'What follows the number is no unit of the formats.',
    remedy: 'Write the unit of the SI with its prefix; u may stand for µ, ohm for Ω.',
    example: ['value: 22 µFd', 'value: 22 µF'],
  },
  'wrong-unit': {
    meaning: 'A unit of another kind of quantity than this key takes.',
    remedy: 'Write a value in the unit that the message names, or the part as the kind it is.',
    example: ['C101: { value: 1 kΩ }', 'C101: { value: 1 nF }'],
  },
  'not-a-quantity': {
    meaning: 'The text has no number in it.',
    remedy: 'Write a number and its unit.',
    example: ['value: a lot', 'value: 2.2 MΩ'],
  },
  'out-of-range': {
    meaning: 'The value cannot be: a capacitance below zero, a current gain of nothing.',
    remedy: 'Correct it; where it is not known and the part may be taken as ideal, leave the key out.',
    example: ['value: -1 µF', 'value: 1 µF'],
  },
  'not-a-designator': {
    meaning: 'The key of a part is no reference designator (IEC 60617, IEEE 315).',
    remedy: 'Write letters and a number; a slash between those of two channels.',
    example: ['bleeder: { … }', 'R130: { … }'],
  },
  'designator-twice': {
    meaning: 'Two parts carry one designator.',
    remedy: 'Give one of them its own, as printed on the board.',
  },
  'channel-mismatch': {
    meaning: 'A part has more or fewer designators than the board has channels.',
    remedy: 'Write one designator for each channel, or a single one for a part that exists once.',
    example: ['R105/R106/R108', 'R105/R106'],
  },
  'bare-channel-node': {
    meaning: 'A part that exists once touches a node that every channel has; which one is not said.',
    remedy: 'Write the channel behind the node, or list the node under common: where both channels share it.',
    example: ['R107: { between: [out, gnd] }', 'R107: { between: [out@left, gnd] }'],
  },
  'unknown-node': {
    meaning: 'A node that no part touches.',
    remedy: 'Correct the name.',
    example: ['output: { node: outt }', 'output: { node: out }'],
  },
  'unknown-type': {
    meaning: 'A type that stands neither under types: of the board nor of the job.',
    remedy: 'Correct the name, or add the figures of its data sheet under types:.',
  },
  'type-leads': {
    meaning: 'A part has leads that its type does not have, or lacks some.',
    remedy: 'Write the leads of the type: collector, base, emitter; drain, gate, source; anode, cathode; …',
    example: ['Q101: { type: HN-A, gate: b1, … }', 'Q101: { type: HN-A, base: b1, … }'],
  },
  'unknown-position': {
    meaning: 'The job, or a list of the board, names a designator that the board does not have.',
    remedy: 'Correct the designator; a part that is new goes under added:.',
  },
  'fit-mismatch': {
    meaning:
      'What is fitted or pulled cannot stand in that position: another kind of part, a figure that the kind does not have.',
    remedy: 'Write a part of the same kind; another kind is fit: none here and a new part under added:.',
  },
  'lead-order': {
    meaning: 'An order of leads that is none: a letter twice, or one that the part does not have.',
    remedy: 'Write every lead once, from the left hole to the right.',
    example: ['case_leads: DGS', 'case_leads: CBE'],
  },
  'transit-time': {
    meaning: 'fT at its current leaves no time for the transit through the base: Cib and Cob alone are slower.',
    remedy: 'Write fT at the current it was measured at, or check the capacitances.',
  },
  'leads-on-one-node': {
    meaning: 'Every lead of a part stands on the same node, so that it does nothing.',
    remedy: 'Write the node that each lead is joined to.',
    example: ['between: [out, out]', 'between: [out, gnd]'],
  },
  'floating-node': {
    meaning: 'Only one lead touches a node, so that nothing can flow there.',
    remedy: 'Join it to another part, or correct the name of the node.',
  },
  'no-dc-path': {
    meaning: 'Nothing but capacitors joins a node to the rest, so that its voltage is not defined.',
    remedy: 'Add the resistor that sets it, or correct the nodes of the parts around it.',
  },
  'rail-loop': {
    meaning: 'A loop without resistance runs through a supply: its current is not defined.',
    remedy: 'Give one part of the loop its resistance, or take one out.',
  },
  'no-bias': {
    meaning:
      'No steady voltages were found that satisfy every part, or the circuit has none: an amplifier without feedback, a latch.',
    remedy: 'Follow the part and node that the message names; check what feeds back to it, and the rails.',
  },
  'unreadable-file': {
    meaning:
      'A file is not there, may not be opened, is no UTF-8 text, is larger than a board or job can be, or is no recording (the column counts its bytes).',
    remedy: 'Check the path, which counts from the file that names it, and the permissions.',
  },
  'unknown-cartridge': {
    meaning: 'A cartridge that the board does not list.',
    remedy: 'Correct the name, or add it under cartridges: of the board.',
  },
  'unknown-rail': {
    meaning: 'A supply that the board does not have.',
    remedy: 'Write one of its rails: --rail vcc=20 V.',
  },
};
