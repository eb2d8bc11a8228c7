/** The lessons, in the order in which they are given. */
export const lessonIds = ['leg', 'corner', 'losses', 'transistor', 'leads', 'diodes', 'hiss', 'zero'] as const;

export type LessonId = (typeof lessonIds)[number];
