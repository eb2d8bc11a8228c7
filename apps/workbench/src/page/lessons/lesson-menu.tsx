import type { JSX } from 'preact';
import { lessonTitles } from '@curvewright/report';
import { lessonIds } from '@curvewright/verify';
import type { TextOf } from '../../contract/compute.ts';
import { fragmentOf } from '../store/route.ts';
import type { LessonsStore } from './lessons-store.ts';
import type { Done } from './record.ts';
import { words } from './words.ts';

interface LessonMenuProps {
  readonly store: LessonsStore;
  /** Of the file in view. */
  readonly path: string;
  readonly board: TextOf;
}

/** All lessons, with what was done of them on this board. */
export function LessonMenu({ store, path, board }: LessonMenuProps): JSX.Element {
  const record = store.record.value;
  return (
    <>
      <h1>{words.title}</h1>
      <p class="facts">{words.on(board.path)}</p>
      <table class="lesson-list">
        <thead>
          <tr>
            <th scope="col">{words.title}</th>
            <th scope="col">{words.progress}</th>
          </tr>
        </thead>
        <tbody>
          {lessonIds.map((id) => (
            <tr key={id}>
              <th scope="row">
                <a href={fragmentOf({ view: 'lessons', path, lesson: id })}>{lessonTitles[id]}</a>
              </th>
              <td>{doneText(record?.find((done) => done.lesson === id && done.board === board.path))}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function doneText(done: Done | undefined): string {
  if (done === undefined) return words.notYet;
  const { measured, fewest, mark } = done;
  return measured === null || fewest === null ? words.marked(mark) : words.solved(measured, fewest);
}
