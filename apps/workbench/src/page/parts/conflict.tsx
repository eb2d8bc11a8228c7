import type { JSX } from 'preact';
import type { FileText } from '../../contract/files.ts';
import type { OpenFile } from '../store/open-files.ts';
import { words } from '../words.ts';
import { sideBySide } from './line-diff.ts';
import { useSession } from './session-context.ts';

/** Two texts of one file side by side, until the person chooses. */
export function Conflict({ file, theirs }: { file: OpenFile; theirs: FileText | null }): JSX.Element {
  const { resolve, saveCopy } = useSession();
  const { path } = file;
  return (
    <section class="conflict" aria-labelledby="conflict-title">
      <h2 id="conflict-title">{words.conflict(path)}</h2>
      <p role="alert">{words.conflictHelp}</p>
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
          {sideBySide(mine, theirs).map((pair, n) => (
            <tr key={n} class={pair.mine === pair.theirs ? undefined : 'differs'}>
              <Side line={pair.mine} differs={pair.theirs === null} word={words.onlyHere} />
              <Side line={pair.theirs} differs={pair.mine === null} word={words.onlyThere} />
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Side({ line, differs, word }: { line: string | null; differs: boolean; word: string }): JSX.Element {
  return (
    <td>
      {differs && <span class="for-the-ear">{word}: </span>}
      <code>{line}</code>
    </td>
  );
}
