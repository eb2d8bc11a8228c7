import { readFileSync } from 'node:fs';
import { circuitOf, joinJob, readBoard, readJob, type Board, type Job } from '@curvewright/board';
import { describe, expect, it } from 'vitest';
import { atOnce, checkJob, gainReader, insertionSteps, type Insertion } from '../../src/index.ts';
import { nodeVolts } from '@curvewright/network';
import { stageOf, valueOf } from '../stages.ts';

const boardOf = (name: string): Board => {
  const file = `seeds/boards/${name}.board.yaml`;
  return valueOf(readBoard(readFileSync(file, 'utf8'), file));
};

const jobWith = (board: Board, positions: string): Job =>
  valueOf(
    joinJob(valueOf(readJob(`job: 1\ntitle: invented\nboard: x\npositions:\n  ${positions}\n`, 'x.job.yaml')), board),
  );

describe('wrong insertions', () => {
  const board = boardOf('lk417');
  const answer = atOnce(insertionSteps(stageOf(board.circuit)));

  it('are five for each transistor, beside the one as it stands', () => {
    expect(answer.standing.map(({ ref, inserted }) => [ref, inserted])).toEqual(
      ['Q101', 'Q102', 'Q103', 'Q104', 'Q105', 'Q106'].map((ref) => [ref, 'ECB']),
    );
    for (const { ref } of answer.standing) {
      const ways = answer.positions.filter((each) => each.ref === ref).map(({ inserted }) => inserted);
      expect(new Set(ways)).toEqual(new Set(['EBC', 'CEB', 'CBE', 'BEC', 'BCE']));
    }
  });

  it('show what the job with that insertion shows', () => {
    for (const inserted of ['EBC', 'CEB', 'CBE', 'BEC', 'BCE']) {
      const job = jobWith(board, `Q103: { inserted: ${inserted} }`);
      const stage = stageOf(circuitOf(job, 'rebuilt')!.circuit);
      const told = answer.positions.find((each) => each.ref === 'Q103' && each.inserted === inserted)!;
      // One bias found from two starts: what Newton's last step leaves, and a gain follows it.
      expect(told.gainDb).toBeCloseTo(gainReader(stage).gainDb(0, 1000), 6);
      for (const { node, volts } of told.nodes) {
        expect(volts, node).toBeCloseTo(nodeVolts(stage.network, stage.point, node), 6);
      }
    }
  });

  it('name the nodes of the channel in full, and the shared ones', () => {
    const [first] = answer.positions;
    expect(first!.nodes.map(({ node }) => node)).toContain('c1@left');
    expect(first!.nodes.map(({ node }) => node)).toContain('vq');
    expect(first!.nodes.some(({ node }) => node.endsWith('@right'))).toBe(false);
    expect(first!.points.map(({ hz }) => hz)).toContain(10_000);
  });

  it('differ from each other and from the right one by what a meter reads, but for emitter and collector that lie alike', () => {
    const base = answer.standing.find(({ ref }) => ref === 'Q103')!;
    const furthest = (a: Insertion, b: Insertion): number =>
      Math.max(
        ...a.nodes.map(({ node, volts }) => Math.abs(volts - b.nodes.find((each) => each.node === node)!.volts)),
      );
    for (const way of answer.positions.filter(({ ref }) => ref === 'Q103')) {
      // 1 % of the 16 V at the collector, which the simplest meter tells.
      expect(furthest(way, base), way.inserted).toBeGreaterThan(0.16);
    }
  });

  it('of a symmetrical JFET show nothing when drain and source change places', () => {
    const jfets = atOnce(insertionSteps(stageOf(boardOf('lk520').circuit)));
    const [right, turned] = [
      jfets.standing.find(({ ref }) => ref === 'J101')!,
      jfets.positions.find(({ ref, inserted }) => ref === 'J101' && inserted === 'SGD')!,
    ];
    // Crss and Ciss are not symmetrical: at 1 kHz some picofarads behind kilohms, 1e-3 dB.
    expect(Math.abs(turned.gainDb! - right.gainDb!)).toBeLessThan(1e-3);
  });
});

describe('a stage with a rotated transistor', () => {
  const job = jobWith(boardOf('lk417'), 'Q105: { inserted: BCE }');
  const checked = valueOf(checkJob(job));
  const own = checked.findings.filter(({ counts, channel }) => counts && channel === 'left');

  it('can show the right gain at 1 kHz and the right treble', () => {
    const gain = own.find(({ what }) => what === 'gain');
    expect(gain?.level).toBe('good');
    expect(Math.abs(gain!.value)).toBeLessThan(0.5);
    expect(own.find(({ what }) => what === 'treble')?.level).toBe('good');
  });

  it('is refused by check all the same', () => {
    expect(checked.verdict).toBe('fail');
    expect(own.find(({ what, ref }) => what === 'leads' && ref === 'Q105')).toMatchObject({
      level: 'fail',
      where: 'wrong holes',
    });
  });

  it('is refused by its bias and its ratings, too, which no board has to state holes for', () => {
    const failed = new Set(own.filter(({ level }) => level === 'fail').map(({ what }) => what));
    expect(failed).toContain('node_volts');
    expect(failed).toContain('rating');
    const spoilt = own.find(({ what, ref, where }) => what === 'rating' && ref === 'Q105' && where === 'VEBO');
    expect(spoilt?.next).toContain('discard the part');
  });
});
