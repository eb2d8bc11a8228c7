import { spawn } from 'node:child_process';

/** Hands an address to the person's browser; where there is none, nothing happens. */
export function showInBrowser(address: string): void {
  const [program, ...words] = opener();
  if (program === undefined) return;
  const child = spawn(program, [...words, address], { detached: true, stdio: 'ignore' });
  child.on('error', () => undefined);
  child.unref();
}

function opener(): readonly string[] {
  switch (process.platform) {
    case 'darwin':
      return ['open'];
    case 'win32':
      return ['cmd', '/c', 'start', ''];
    default:
      // Without a screen it would start a browser in this very terminal.
      return (process.env.DISPLAY ?? process.env.WAYLAND_DISPLAY) ? ['xdg-open'] : [];
  }
}
