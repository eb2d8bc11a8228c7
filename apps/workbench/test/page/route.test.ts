import { describe, expect, it } from 'vitest';
import { fragmentOf, readFragment, type Route } from '../../src/page/store/route.ts';

describe("the address's fragment", () => {
  it('is read back as the route it was made of', () => {
    const routes: readonly Route[] = [
      { view: 'list' },
      { view: 'start' },
      { view: 'sheet', path: 'jobs/a & b #1.job.yaml' },
      { view: 'text', path: 'boards/größe 100%.board.yaml' },
    ];
    expect(routes.map((route) => readFragment(fragmentOf(route)).route)).toEqual(routes);
  });

  it('brings the token alone, as the server prints it, and never has one after that', () => {
    expect(readFragment('#oypRkO2X_-ZMklJjYIvCJNGZKF6S6ygx')).toEqual({
      route: { view: 'start' },
      token: 'oypRkO2X_-ZMklJjYIvCJNGZKF6S6ygx',
    });
    expect(readFragment(fragmentOf({ view: 'list' })).token).toBeNull();
  });
});
