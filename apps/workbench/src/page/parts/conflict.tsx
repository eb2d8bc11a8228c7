import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { FileText } from '../../contract/files.ts';
import type { OpenFile } from '../store/open-files.ts';
import { words } from '../words.ts';
import { sideBySide, withoutEqualStretches } from './line-diff.ts';
import { useSession } from './session-context.ts';

/** Two texts of one file side by side, until the person chooses. */
export function Conflict({ file, theirs }: { file: OpenFile; theirs: FileText | null }): JSX.Element {
  const { resolve, saveCopy } = useSession();
  const { path } = file;
  const heading = useRef<HTMLHeadingElement>(null);
  // It asks for a decision: wherever the hand is on the sheet, it comes into view.
  useEffect(() => {
    heading.current?.scrollIntoView();
    heading.current?.focus();
  }, []);
  return (
    <section class="conflict" aria-labelledby="conflict-title">
      <h2 id="conflict-title" ref={heading} tabIndex={-1}>
        {words.conflict(path)}
      </h2>
      <p>{words.conflictHelp}</p>
      <div class="acts">
        <Choose
          text={words.keepMine}
          choose={() => {
            resolve(path, 'mine');
          }}
        />
        {theirs !== null && (
          <>
            <Choose
              text={words.takeTheirs}
              choose={() => {
                resolve(path, 'theirs');
              }}
            />
            <Choose text={words.saveCopy} choose={() => void saveCopy(path)} />
          </>
        )}
      </div>
      {theirs === null ? <p>{words.gone}</p> : <Sides mine={file.text} theirs={theirs.text} />}
    </section>
  );
}

function Choose({ text, choose }: { text: string; choose: () => void }): JSX.Element {
  return (
    <button type="button" onClick={choose}>
      {text}
    </button>
  );
}

function Sides({ mine, theirs }: { mine: string; theirs: string }): JSX.Element {
  return (
    <div class="sides" tabIndex={0} role="region" aria-label={words.conflictHelp}>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.mine}</th>
            <th scope="col">{words.theirs}</th>
          </tr>
        </thead>
        <tbody>
          {withoutEqualStretches(sideBySide(mine, theirs)).map((part, n) =>
            typeof part === 'number' ? (
              <tr key={n} class="equal">
                <td colSpan={2}>{words.equalLines(part)}</td>
              </tr>
            ) : (
              <tr key={n} class={part.mine === part.theirs ? undefined : 'differs'}>
                <Side line={part.mine} differs={part.mine !== part.theirs} word={words.onlyHere} />
                <Side line={part.theirs} differs={part.mine !== part.theirs} word={words.onlyThere} />
              </tr>
            ),
          )}
        </tbody>
      </table>
    </div>
  );
}

function Side({ line, differs, word }: { line: string | null; differs: boolean; word: string }): JSX.Element {
  return (
    <td>
      {differs && line !== null && <span class="for-the-ear">{word}: </span>}
      <code>{line}</code>
    </td>
  );
}
