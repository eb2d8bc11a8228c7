import type { Finding } from '@curvewright/verify';

/** What a finding is about, and what usually moves it; the limits of a board or job may be changed under limits:. */
export const findingGuide: Readonly<Record<Finding['what'], string>> = {
  deviation:
    'How far the response stands from the RIAA curve over the band of the limit, 0 dB at 1 kHz. The four parts of the equaliser network decide it; bass also hangs on every coupling and feedback-leg capacitor.',
  bass: 'The response at 20 Hz against the curve. Coupling capacitors and the feedback leg roll it off; each alone may look generous and together they add up.',
  treble:
    'The response from 15 to 20 kHz against the curve: the 75 µs branch, stray capacitance, and gain that runs out.',
  ultrasonic:
    'The highest rise above 20 kHz. It feeds the next stage with what no record holds, and often goes with thin stability.',
  subsonic_high: 'The highest rise from 10 to 30 Hz, where arm and cartridge resonate: rumble and warps.',
  subsonic_low: 'The highest rise from 2 to 10 Hz: warps, which cost overload.',
  gain: 'Gain at 1 kHz against the drawn board.',
  balance: 'The largest difference between the channels over the band of the limit.',
  crosstalk: 'Separation at 1 kHz through rails and common nodes. Wiring and pick-up are not modelled.',
  hiss: 'Noise from 20 Hz to 20 kHz, A-weighted, input shorted, referred to the input.',
  hum: 'What the ripple of the supplies makes at the output, re 5 mV programme. Pick-up and earth loops are not modelled.',
  overload: 'The rms input at 1 kHz that brings 1 % distortion, or 1 dB of compression if that comes first.',
  distortion: 'Total harmonic distortion at 1 kHz and 5 mV.',
  input_resistance: 'What the cartridge sees at 1 kHz, against 47 kΩ.',
  output_dc:
    'Steady voltage at the output behind a coupling capacitor: its leakage. A scratchy volume control tells of it.',
  node_volts:
    "A bias voltage against the drawn board, within what a healthy board's tolerances allow. The voltage chart of the service sheet is made of these.",
  stability:
    'Q of the least damped pair of poles, and the phase margin where the board names where its loop may be opened.',
  settle: 'Time from switch-on until the output rests within 10 mV.',
  rating:
    'Voltage, current or power of a part against its rating, with what is usual to spare. Capacitors are judged at the bias and on the way up.',
  polarity: 'Whether a polarised capacitor or a diode sees its voltage the right way round, steady and at switch-on.',
  leads: 'How the leads of a fitted transistor come to stand in the holes: as is, turned by 180°, or crossed.',
  seat: 'Pitch, height and diameter of a fitted part against the room of its place.',
  ceramic: 'A class 2 ceramic in the signal path: its value falls with the voltage across it, and it hears knocks.',
};
