import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { lessonTitles } from '@curvewright/report';
import { lessonIds } from '@curvewright/verify';
import { Trouble } from '../sheet/trouble.tsx';
import { fragmentOf } from '../store/route.ts';
import type { LessonProps } from './lesson-props.ts';
import { LessonSteps } from './lesson-steps.tsx';
import { Prose } from './prose.tsx';
import { useAnswer } from './use-answer.ts';
import { words } from './words.ts';

/** One lesson on one board, or which boards have it. */
export function LessonSheet(props: LessonProps): JSX.Element {
  const { store, path, board, id } = props;
  const outcome = useAnswer(store, 'lesson', board, id);
  const next = lessonIds[lessonIds.indexOf(id) + 1];
  return (
    <>
      <h1>{lessonTitles[id]}</h1>
      <p class="facts">{words.on(board.path)}</p>
      {outcome === null && <p class="pending">{words.computing}</p>}
      {outcome?.ok === false && <Trouble title={words.cannot} diagnostics={outcome.diagnostics} />}
      {outcome?.ok === true &&
        ('why' in outcome.answer ? (
          <>
            <Prose text={outcome.answer.why} />
            <OtherBoards {...props} />
          </>
        ) : (
          <LessonSteps {...props} lesson={outcome.answer} />
        ))}
      <nav class="lesson-ways" aria-label={words.title}>
        <a href={fragmentOf({ view: 'lessons', path })}>{words.all}</a>
        {next !== undefined && (
          <a href={fragmentOf({ view: 'lessons', path, lesson: next })}>{words.next(lessonTitles[next])}</a>
        )}
      </nav>
    </>
  );
}

function OtherBoards({ store, board, id }: LessonProps): JSX.Element {
  const [boards, found] = useState<readonly string[] | null>(null);
  useEffect(() => {
    void store.boardsWith(id, board.path).then(found);
  }, [store, id, board.path]);
  if (boards === null) return <p class="pending">{words.looking}</p>;
  if (boards.length === 0) return <p>{words.noOther}</p>;
  return (
    <>
      <p>{words.offeredBy}</p>
      <ul class="other-boards">
        {boards.map((other) => (
          <li key={other}>
            <a href={fragmentOf({ view: 'lessons', path: other, lesson: id })}>{other}</a>
          </li>
        ))}
      </ul>
    </>
  );
}
