import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Lesson } from '@curvewright/report';
import { Card } from './card.tsx';
import type { LessonProps } from './lesson-props.ts';
import { LessonWords } from './lesson-words.tsx';
import { MarkControl } from './mark-control.tsx';
import { answerText, isRight, levelText, markText } from './mark-text.ts';
import { MarkedFigure } from './marked-figure.tsx';
import { Prose } from './prose.tsx';
import type { Done } from './record.ts';
import { useAnswer } from './use-answer.ts';
import { WalkView } from './walk.tsx';
import { words } from './words.ts';

/** Predict, see, try, and find a fault. */
export function LessonSteps({ store, board, id, lesson }: LessonProps & { readonly lesson: Lesson }): JSX.Element {
  const { mark } = lesson;
  const [at, move] = useState<number | null>(mark.kind === 'level' ? mark.start : null);
  const [isShown, show] = useState(false);
  const told = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (isShown) told.current?.focus();
  }, [isShown]);

  /** A card that was solved before stays solved. */
  function done(found: Pick<Done, 'measured' | 'fewest'> | null): void {
    if (at === null) return;
    const before = store.record.peek()?.find((each) => each.lesson === id && each.board === board.path);
    const { measured, fewest } = found ?? before ?? { measured: null, fewest: null };
    const date = new Date().toISOString().slice(0, 10);
    void store.keep({
      ...{ lesson: id, board: board.path, mark: markText(mark, at), answer: answerText(mark), date },
      ...{ measured, fewest },
    });
  }

  return (
    <>
      <section class="predict" aria-label={words.predict}>
        <h2>{words.predict}</h2>
        {lesson.intro.map((text) => (
          <Prose key={text} text={text} />
        ))}
        <div class="question">
          <Prose text={lesson.question} />
        </div>
        <MarkedFigure
          figure={isShown ? lesson.revealed : lesson.figure}
          mark={mark}
          at={at}
          move={isShown ? null : move}
        />
        {!isShown && (
          <>
            <MarkControl mark={mark} at={at} move={move} />
            <button
              type="button"
              disabled={at === null}
              onClick={() => {
                show(true);
                done(null);
              }}
            >
              {words.show}
            </button>
          </>
        )}
      </section>
      {isShown && at !== null && (
        <>
          <section class="told">
            <h2 ref={told} tabIndex={-1}>
              {words.because}
            </h2>
            <p class="label">{verdictOn(lesson, at)}</p>
            {lesson.told.map((text) => (
              <Prose key={text} text={text} />
            ))}
          </section>
          {lesson.walk !== null && <WalkView walk={lesson.walk} />}
          <section class="card">
            <h2>{words.card}</h2>
            <LessonCard
              {...{ store, board, id, lesson }}
              solved={(measured, fewest) => {
                done({ measured, fewest });
              }}
            />
          </section>
        </>
      )}
      {store.trouble.value !== null && <p role="alert">{words.notKept(store.trouble.value)}</p>}
      <LessonWords texts={[lesson.title, lesson.question, ...lesson.intro, ...(isShown ? lesson.told : [])]} />
    </>
  );
}

function verdictOn({ mark }: Lesson, at: number): string {
  const both = words.marks(markText(mark, at), answerText(mark));
  if (mark.kind === 'choice') return isRight(mark, at) ? `${words.right} ${answerText(mark)}.` : both;
  if (isRight(mark, at)) return `${words.near} ${both}`;
  return `${both} ${words.off(levelText(Math.abs(at - mark.answer), mark).replace('+', ''))}`;
}

interface LessonCardProps extends Omit<LessonProps, 'path'> {
  readonly lesson: Lesson;
  readonly solved: (measured: number, fewest: number) => void;
}

/** The card is computed once the answer is shown. */
function LessonCard({ store, board, id, lesson, solved }: LessonCardProps): JSX.Element {
  const outcome = useAnswer(store, 'card', board, id, lesson.ref);
  if (outcome === null) return <p class="pending">{words.computing}</p>;
  const card = outcome.ok ? outcome.answer : null;
  if (card === null) return <p>{words.noCard}</p>;
  return (
    <Card
      card={card}
      solved={(measured) => {
        solved(measured, card.fewest);
      }}
    />
  );
}
