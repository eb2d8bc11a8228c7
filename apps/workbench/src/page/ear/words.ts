/** Every string of the view by ear. */
export const words = {
  title: 'By ear',
  intro:
    'Play a file of your own as this board would change it. Each state is brought to the same loudness, so that only the colour differs.',
  file: 'A sound file of yours',
  stays: 'It stays in this page and is not sent anywhere.',
  reading: 'reading …',
  unreadable: (name: string): string => `${name} is no sound that this browser reads; save it as WAV or FLAC first.`,
  tooLarge: (name: string, mb: number): string => `${name} is larger than ${mb} MB; cut a piece of some minutes.`,
  ready: (name: string, seconds: string, rate: string): string => `${name}, ${seconds}, ${rate}`,
  hear: 'Hear',
  exact: 'the file itself',
  state: { drawn: 'as drawn', found: 'as found', rebuilt: 'as rebuilt' },
  matched: (db: string): string => `brought to the same loudness by ${db} dB`,
  play: 'Play',
  stop: 'Stop',
  volume: 'Volume',
  hiss: 'hiss',
  hum: 'hum',
  noise: 'Add what the board makes by itself',
  noiseIs: (hiss: string, hum: string | null): string =>
    hum === null
      ? `Hiss ${hiss} dB against a programme of 5 mV. No ripple is stated, so there is no hum.`
      : `Hiss ${hiss} dB, hum ${hum} dB against a programme of 5 mV.`,
  noiseHelp: 'The mean level of your file counts as 5 mV at the input.',
  noiseOf: 'The file itself has neither.',
  save: 'Save what is heard as a WAV file',
  saving: 'computing the file …',
  savedAs: (base: string, state: string): string => `${base} ${state}.wav`,
  computing: 'computing …',
  cannot: 'Nothing can be heard of these files as they stand:',
  figure: 'Fig. 1  What the ear hears: deviation from the RIAA curve',
  keys: 'The arrow keys switch between the states while it plays.',
};
