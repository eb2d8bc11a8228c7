import type { LessonId } from '@curvewright/verify';

export const lessonTitles: Readonly<Record<LessonId, string>> = {
  leg: 'One capacitor, two jobs',
  corner: 'When the corner formula is wrong',
  losses: 'Leakage is not ESR',
  transistor: 'What the hFE of a transistor moves',
  leads: 'Which way round the leads go',
  diodes: 'Two diodes for one',
  hiss: 'Where the hiss comes from',
  zero: 'The extra zero',
};
