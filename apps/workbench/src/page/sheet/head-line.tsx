import type { JSX } from 'preact';
import type { CheckAnswer, Level } from '@curvewright/verify';
import type { SheetView } from '../../contract/compute.ts';
import { BeginJob } from '../bench-list/new-job.tsx';
import { Mark } from '../parts/mark.tsx';
import { useSession } from '../parts/session-context.ts';
import { words } from '../words.ts';

/** What the job is, whose, why it came in; and the verdict. */
export function HeadLine({ view }: { view: SheetView }): JSX.Element {
  const { file } = useSession();
  const { head } = view;
  const facts = [
    ...(head?.model ? [head.model] : []),
    ...(head?.serial ? [`${words.serial} ${head.serial}`] : []),
    ...(head?.date ? [head.date] : []),
    ...(head?.technician ? [head.technician] : []),
  ];
  return (
    <div class="head-line">
      <div>
        <h1>{view.title}</h1>
        <p class="facts">{head === null ? words.board : facts.join(' · ')}</p>
        {head === null && file.value !== null && <BeginJob board={file.value.path} title={view.title} />}
        {head?.complaint && (
          <p class="complaint">
            <span class="label">{words.complaint}</span> {head.complaint}
          </p>
        )}
      </div>
      <Verdict />
    </div>
  );
}

/** Said aloud when it changes. */
function Verdict(): JSX.Element {
  const { subject, hand } = useSession();
  const check = subject.told.value?.check ?? null;
  const isOld = subject.toldIsOld.value || hand.isMoving.value;
  return (
    <div class={isOld && check !== null ? 'verdict is-old' : 'verdict'}>
      <p role="status" aria-label={words.verdict} aria-busy={isOld}>
        {check === null ? (
          <span class="pending">{words.computing}</span>
        ) : (
          <>
            <Mark level={check.verdict} />
            <span class="counts">{countsOf(check)}</span>
          </>
        )}
      </p>
      {isOld && check !== null && <p class="old-note">{words.outOfDate}</p>}
    </div>
  );
}

function countsOf({ findings }: CheckAnswer): string {
  const counting = findings.filter(({ counts }) => counts);
  const count = (level: Level): number => counting.filter((finding) => finding.level === level).length;
  const open = (['fail', 'look', 'not measured'] as const).filter((level) => count(level) > 0);
  return open.length === 0
    ? words.counts.good(counting.length)
    : open.map((level) => words.counts[level](count(level))).join(' · ');
}
