import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runBench, type RunningBench } from './running-bench.ts';

let bench: RunningBench;
beforeAll(async () => {
  bench = await runBench({ 'jobs/one.job.yaml': 'job: 1\n' });
});
afterAll(() => bench.close());

const EVERY_API = [
  '/api/files',
  '/api/file?path=jobs/one.job.yaml',
  '/api/history?path=jobs/one.job.yaml',
  '/api/events',
  '/api/nothing',
];

describe('who is answered', () => {
  it('answers its own page', async () => {
    expect((await bench.ask('/')).status).toBe(200);
    expect((await bench.ask('/api/files')).status).toBe(200);
    const own = { origin: `http://127.0.0.1:${bench.port}` };
    expect((await bench.ask('/api/files', { headers: own })).status).toBe(200);
    const local = { host: `localhost:${bench.port}`, origin: `http://localhost:${bench.port}` };
    expect((await bench.ask('/api/files', { headers: local })).status).toBe(200);
  });

  it.each(EVERY_API)('refuses %s without the token, with a wrong one, and with one a letter short', async (path) => {
    for (const token of [undefined, '', 'x'.repeat(32), bench.token.slice(1)]) {
      const { status, json } = await bench.ask(path, { headers: { 'x-bench-token': token } });
      expect([token, status]).toEqual([token, 403]);
      expect(json.message).toContain('open the address it prints now');
    }
  });

  it('takes the token in the address for the stream of events alone', async () => {
    const without = { headers: { 'x-bench-token': undefined } };
    expect((await bench.ask(`/api/files?token=${bench.token}`, without)).status).toBe(403);
  });

  it.each(['/', '/assets/index-a1.js', '/api/files'])('refuses %s under a name that is not its own', async (path) => {
    for (const host of [
      'bench.example',
      `bench.example:${bench.port}`,
      '127.0.0.1',
      `127.0.0.1:${bench.port + 1}`,
      `127.0.0.1.example:${bench.port}`,
    ]) {
      expect([host, (await bench.ask(path, { headers: { host } })).status]).toEqual([host, 403]);
    }
  });

  it.each(['/', '/assets/index-a1.js', '/api/files'])('refuses %s to a page of another origin', async (path) => {
    const others = [
      'http://bench.example',
      'null',
      '',
      `https://127.0.0.1:${bench.port}`,
      `http://127.0.0.1:${bench.port + 1}`,
      `http://localhost:${bench.port}`,
    ];
    for (const origin of others) {
      expect([origin, (await bench.ask(path, { headers: { origin } })).status]).toEqual([origin, 403]);
    }
  });

  it('allows no other origin to ask at all', async () => {
    const headers = { origin: 'http://bench.example', 'access-control-request-method': 'PUT' };
    const { status, headers: told } = await bench.ask('/api/file', { method: 'OPTIONS', headers });
    expect(status).toBe(403);
    expect(Object.keys(told).filter((name) => name.startsWith('access-control'))).toEqual([]);
  });

  it('listens on the loopback address alone', async () => {
    const outward = Object.values(networkInterfaces())
      .flatMap((each) => each ?? [])
      .filter(({ family, internal }) => family === 'IPv4' && !internal)
      .map(({ address }) => address);
    for (const address of [...outward, '127.0.0.2']) {
      const refusal = await new Promise<string>((resolve) => {
        const socket = connect(bench.port, address, () => {
          socket.destroy();
          resolve('connected');
        });
        socket.on('error', () => {
          resolve('refused');
        });
      });
      expect([address, refusal]).toEqual([address, 'refused']);
    }
  });
});

describe('what is served', () => {
  it('guards every answer, refusals and events too', async () => {
    const policy =
      "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; font-src 'self'; img-src 'self' data: blob:; " +
      "connect-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
    const answers = [
      await bench.ask('/'),
      await bench.ask('/nothing'),
      await bench.ask('/api/files'),
      await bench.ask('/', { headers: { host: 'bench.example' } }),
      await bench.ask('/api/file', { method: 'PUT', body: 'x'.repeat(2 ** 21 + 1) }),
    ];
    expect(answers.map(({ status }) => status)).toEqual([200, 404, 200, 403, 413]);
    for (const { headers } of answers) {
      expect(headers['content-security-policy']).toBe(policy);
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['cache-control']).toBe('no-store');
    }
  });

  it('lists no folder and leads to nothing beside the page', async () => {
    const ways = [
      '/assets',
      '/assets/',
      '/index.htm',
      '/assets/../../package.json',
      '/%2e%2e/package.json',
      '/..%2fpackage.json',
      '//etc/passwd',
      '/jobs/one.job.yaml',
      '/.curvewright',
    ];
    for (const way of ways) expect([way, (await bench.ask(way)).status]).toEqual([way, 404]);
  });

  it('serves the page with its types', async () => {
    expect((await bench.ask('/')).headers['content-type']).toBe('text/html; charset=utf-8');
    expect((await bench.ask('/assets/index-a1.js')).headers['content-type']).toBe('text/javascript; charset=utf-8');
  });

  it('gives a token of its own to every bench', async () => {
    const other = await runBench();
    expect(other.token).not.toBe(bench.token);
    expect(other.token).toMatch(/^[A-Za-z0-9_-]{32}$/);
    await other.close();
  });
});
