import type { JSX } from 'preact';
import type { Level } from '@curvewright/verify';
import { words } from '../words.ts';

const classOf: Readonly<Record<Level, string>> = {
  good: 'good',
  look: 'look',
  fail: 'fail',
  'not measured': 'unmeasured',
};

/** A verdict's shape; with its word beside it unless `alone`, then the word is for the ear. */
export function Mark({ level, alone = false }: { level: Level; alone?: boolean }): JSX.Element {
  return (
    <span class={`mark mark-${classOf[level]}`}>
      <svg viewBox="0 0 12 12" width="12" height="12" aria-hidden="true" focusable="false">
        {shapeOf(level)}
      </svg>
      <span class={alone ? 'for-the-ear' : 'mark-word'}>{words.level[level]}</span>
    </span>
  );
}

function shapeOf(level: Level): JSX.Element {
  switch (level) {
    case 'good':
      return <circle cx="6" cy="6" r="4.5" />;
    case 'look':
      return <path d="M6 1 L11.5 11 H0.5 Z" />;
    case 'fail':
      return <path d="M1.5 1.5 L10.5 10.5 M10.5 1.5 L1.5 10.5" class="stroke" />;
    case 'not measured':
      return <path d="M1.5 6 H10.5" class="stroke" />;
  }
}
