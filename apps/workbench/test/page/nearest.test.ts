import { describe, expect, it } from 'vitest';
import { directionOf, nearestPart } from '../../src/page/drawing/nearest-part.ts';
import { nearestDrawer } from '../../src/page/fitting/nearest-drawer.ts';

describe('the part that an arrow key leads to', () => {
  const at = (ref: string, x: number, y: number) => ({ ref, position: ref, x, y, value: null });
  const parts = [at('R101', 0, 0), at('Q101', 10, 0), at('R109', 9, 8), at('R107', 10, -8), at('C101', -6, 1)];

  it('is the nearest on that side, one on the way before one beside it', () => {
    expect(nearestPart(parts, 'R101', 'ArrowRight')).toBe('Q101');
    expect(nearestPart(parts, 'R101', 'ArrowLeft')).toBe('C101');
    expect(nearestPart(parts, 'Q101', 'ArrowDown')).toBe('R109');
    expect(nearestPart(parts, 'Q101', 'ArrowUp')).toBe('R107');
  });

  it('is none at the edge, and none for a part that is not drawn', () => {
    expect(nearestPart(parts, 'C101', 'ArrowLeft')).toBeNull();
    expect(nearestPart(parts, 'Q999', 'ArrowLeft')).toBeNull();
    expect(directionOf('Enter')).toBeNull();
  });
});

describe('the drawer of a job', () => {
  it('is the nearest above it, with the types beside it', () => {
    const paths = ['drawer.csv', 'jobs/drawer.csv', 'jobs/drawer.types.yaml', 'other/drawer.csv'];
    expect(nearestDrawer('jobs/a.job.yaml', paths)).toEqual({
      drawer: 'jobs/drawer.csv',
      types: 'jobs/drawer.types.yaml',
    });
    expect(nearestDrawer('jobs/2026/a.job.yaml', ['drawer.csv'])).toEqual({ drawer: 'drawer.csv', types: null });
    expect(nearestDrawer('jobs/a.job.yaml', ['other/drawer.csv'])).toBeNull();
  });
});
