import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { Rung, SheetField, SheetRow } from '../../contract/compute.ts';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';
import { nearestRung } from './ladder.ts';

interface SliderProps {
  row: SheetRow;
  field: SheetField;
  ladder: readonly Rung[];
  /** Shows a value that is under the hand and not written yet. */
  show: (written: string) => void;
  commit: (written: string) => Promise<void>;
}

/** Keys held down move like a hand: what they came to is written when they rest this long, ms. */
const rest = 300;

/** Moves a value through the preferred values; curves and numbers follow, the file is written when the hand rests. */
export function Slider({ row, field, ladder, show, commit }: SliderProps): JSX.Element {
  const { hand, subject } = useSession();
  const held = useRef<{ isPressed: boolean; rung: Rung | null; timer?: ReturnType<typeof setTimeout> }>({
    isPressed: false,
    rung: null,
  });
  const moved = hand.move.value;
  const isMoved = moved?.refs === row.refs;
  const value = isMoved ? moved.value : (field.value ?? row.movable);
  const at = value === null ? 0 : nearestRung(ladder, value);

  function letGo(): void {
    const { rung, timer } = held.current;
    clearTimeout(timer);
    held.current = { isPressed: false, rung: null };
    if (rung !== null) void commit(rung.written);
  }

  function move(to: Rung): void {
    show(to.written);
    const { isPressed, timer } = held.current;
    clearTimeout(timer);
    held.current = { isPressed, rung: to, ...(isPressed ? {} : { timer: setTimeout(letGo, rest) }) };
    hand.drag({ revision: subject.revision.peek(), refs: row.refs, value: to.value });
  }

  return (
    <input
      type="range"
      class="slider"
      min={0}
      max={ladder.length - 1}
      step={1}
      value={at}
      aria-label={words.slide(row.refs.join(' '))}
      aria-valuetext={ladder[at]?.written}
      onPointerDown={() => {
        held.current.isPressed = true;
      }}
      onPointerUp={letGo}
      onPointerCancel={letGo}
      onBlur={letGo}
      onInput={({ currentTarget }) => {
        const rung = ladder[currentTarget.valueAsNumber];
        if (rung !== undefined) move(rung);
      }}
    />
  );
}
