import type { JSX } from 'preact';
import type { CheckAnswer, Level } from '@curvewright/verify';
import { channelLetter, figureRows, type FigureRow } from '@curvewright/report';
import type { SheetView } from '../../contract/compute.ts';
import { Mark } from '../parts/mark.tsx';
import { useSession } from '../parts/session-context.ts';
import { useIsNarrow } from '../parts/use-is-narrow.ts';
import { words } from '../words.ts';
import { cellOf, shownStates, type Cell, type ShownState } from './shown-states.ts';

/** What the stage does in each state, a line a figure; the channels side by side, on a narrow page one under the other. */
export function NumbersTable({ view }: { view: SheetView }): JSX.Element {
  const { subject, hand } = useSession();
  const isNarrow = useIsNarrow();
  const answer = subject.told.value?.check ?? null;
  const isOld = subject.toldIsOld.value;
  const live = hand.move.value?.live ?? null;
  const states = shownStates(view, answer === null ? null : { answer, isOld }, live);
  const drawn = answer?.states.drawn ?? view.states[0];
  const { channels } = view;
  const rows = drawn === undefined ? [] : figureRows(channels, drawn);
  const marks = (row: FigureRow, c: number): Level | null =>
    answer === null || isOld || live !== null ? null : levelOf(answer, row, channels, c);
  const parts = { rows, states, channels, marks };
  return (
    <section class="numbers" aria-labelledby="numbers-title">
      <h2 id="numbers-title">{words.numbers}</h2>
      {isNarrow ? <Down {...parts} /> : <Across {...parts} />}
      {answer === null && <p class="pending">{words.computing}</p>}
    </section>
  );
}

interface Parts {
  rows: readonly FigureRow[];
  states: readonly ShownState[];
  channels: readonly string[];
  marks: (row: FigureRow, channel: number) => Level | null;
}

function Across({ rows, states, channels, marks }: Parts): JSX.Element {
  return (
    <table class="figures-table">
      <thead>
        <tr>
          <th scope="col">
            <span class="for-the-ear">{words.whatItDoes}</span>
          </th>
          {states.map(({ state }) => (
            <th key={state} scope="colgroup" colSpan={channels.length} class={`of-${state}`}>
              {words.state[state]}
            </th>
          ))}
          <th scope="col">
            <span class="for-the-ear">{words.unit}</span>
          </th>
          <th scope="colgroup" colSpan={channels.length}>
            <span class="for-the-ear">{words.judged}</span>
          </th>
        </tr>
        {channels.length > 1 && (
          <tr class="letters">
            <td />
            {states.flatMap(({ state }) => channels.map((name) => <Letter key={state + name} name={name} />))}
            <td />
            {channels.map((name) => (
              <Letter key={name} name={name} />
            ))}
          </tr>
        )}
      </thead>
      <tbody>
        {rows.map((row, n) => (
          <tr key={n} class={classOf(row, false)}>
            <th scope="row">{row.label.trim()}</th>
            {states.flatMap((state) =>
              channels.map((name, c) => (
                <Number key={state.state + name} cell={cellOf(state, row, c)} first={c === 0} />
              )),
            )}
            <td class="unit">{row.unit}</td>
            {channels.map((name, c) => (
              <Judged key={name} level={marks(row, c)} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Down({ rows, states, channels, marks }: Parts): JSX.Element {
  const last = channels.length - 1;
  return (
    <table class="figures-table">
      <thead>
        <tr>
          <th scope="col" colSpan={2}>
            <span class="for-the-ear">{words.whatItDoes}</span>
          </th>
          {states.map(({ state }) => (
            <th key={state} scope="col" class={`of-${state}`}>
              {words.state[state]}
            </th>
          ))}
          <th scope="col">
            <span class="for-the-ear">{words.unit}</span>
          </th>
          <th scope="col">
            <span class="for-the-ear">{words.judged}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.flatMap((row, n) =>
          channels
            .map((name, c) => ({ name, c }))
            .filter(({ c }) => row.perChannel !== false || c === last)
            .map(({ name, c }, line) => (
              <tr key={`${n} ${name}`} class={classOf(row, line > 0)}>
                <th scope="row">{line === 0 ? row.label.trim() : <span class="for-the-ear">{row.label}</span>}</th>
                <td class="letter">{channels.length > 1 && row.perChannel !== false ? channelLetter(name) : ''}</td>
                {states.map((state) => (
                  <Number key={state.state} cell={cellOf(state, row, c)} first />
                ))}
                <td class="unit">{row.unit}</td>
                <Judged level={marks(row, c)} />
              </tr>
            )),
        )}
      </tbody>
    </table>
  );
}

/** A detail of the row above it; or a further channel's line of the same figure. */
function classOf({ label }: FigureRow, isMore: boolean): string {
  return [...(label.startsWith(' ') ? ['detail'] : []), ...(isMore ? ['more'] : [])].join(' ');
}

function Letter({ name }: { name: string }): JSX.Element {
  return (
    <th scope="col" abbr={name} class="letter">
      {channelLetter(name)}
    </th>
  );
}

function Number({ cell: { text, isOld }, first }: { cell: Cell; first: boolean }): JSX.Element {
  const classes = ['number', ...(first ? ['first'] : []), ...(isOld ? ['is-old'] : [])];
  return <td class={classes.join(' ')}>{text}</td>;
}

function Judged({ level }: { level: Level | null }): JSX.Element {
  return <td class="judged">{level !== null && <Mark level={level} alone />}</td>;
}

const worstFirst: readonly Level[] = ['fail', 'not measured', 'look', 'good'];

/** A figure of all channels together is marked in the last one's place. */
function levelOf(answer: CheckAnswer, row: FigureRow, channels: readonly string[], c: number): Level | null {
  const levels = answer.findings
    .filter((each) => each.counts && row.judgedBy(each) && (each.channel ?? channels.at(-1)) === channels[c])
    .map(({ level }) => level);
  return worstFirst.find((level) => levels.includes(level)) ?? null;
}
