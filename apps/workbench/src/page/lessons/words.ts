/** Every string of the lessons' frame; what is told of a board comes with it. */
export const words = {
  title: 'Lessons',
  on: (board: string): string => `Computed on ${board}, as drawn.`,
  noBoard: 'There is no board here to give lessons on.',
  computing: 'computing …',
  all: 'All lessons',
  next: (title: string): string => `Next lesson: ${title}`,
  progress: 'Done so far',
  notYet: 'not yet',
  marked: (mark: string): string => `marked ${mark}`,
  solved: (measured: number, fewest: number): string => `solved with ${count(measured)}, ${fewest} would do`,
  offeredBy: 'These boards have it:',
  noOther: 'No other board here has it either.',
  looking: 'Looking at the other boards …',
  cannot: 'This board cannot be computed:',

  predict: '1  Predict',
  yourMark: 'your mark',
  show: 'Show the answer',
  markHint: 'Arrow keys or the figure itself move the mark.',
  right: 'Right.',
  near: 'Near enough.',
  off: (by: string): string => `Off by ${by}.`,
  notThat: (answer: string): string => `It is ${answer}.`,
  marks: (mark: string, answer: string): string => `Your mark: ${mark}. This board: ${answer}.`,
  because: '2  What it teaches',
  walk: '3  Try it',
  slide: (part: string): string => `Value of ${part}`,
  card: 'Fault card',
  cardIntro: 'One part of this board is at fault. Find it with as few measurements as you can.',
  noCard: 'On this board no such fault can be seen by measuring.',
  measure: 'Measure',
  measured: (n: number): string => `${count(n)} so far`,
  healthy: 'as drawn',
  reads: 'reads',
  quantity: 'what',
  suspect: 'What is wrong',
  choose: 'choose …',
  name: 'Name it',
  ruledOut: (suspect: string, what: string, would: string, reads: string): string =>
    `Not that. With ${suspect}, ${what} would be ${would}. It is ${reads}.`,
  notRuledOut: (suspect: string): string => `It is not ${suspect}. Nothing you measured says so yet.`,
  found: (suspect: string): string => `Found: ${suspect}.`,
  took: (n: number, fewest: number): string =>
    n === 0
      ? 'You guessed, and measured nothing.'
      : n <= fewest
        ? `${count(n)}: fewer cannot tell.`
        : `${count(n)}. ${fewest} would do.`,
  noTable: (path: string): string => `${path} is no table; put it right or remove it.`,
  busy: (path: string): string => `${path} is being written by something else.`,
  notKept: (why: string): string => `Your progress is not saved: ${why}`,
  glossary: 'Words used here',
  figureNumbers: 'numbers of this value',
};

function count(n: number): string {
  return n === 1 ? '1 measurement' : `${n} measurements`;
}
