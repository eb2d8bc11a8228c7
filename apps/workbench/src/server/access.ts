import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** 192 bits, in letters that stand in an address as they are. */
export function randomToken(): string {
  return randomBytes(24).toString('base64url');
}

/** Compared by digest, so that neither length nor time tells anything of the token. */
export function isToken(given: string | undefined, token: string): boolean {
  return given !== undefined && timingSafeEqual(digest(given), digest(token));
}

function digest(text: string): Buffer {
  return createHash('sha256').update(text).digest();
}

/**
 * Why a request does not come from the bench's own page, or null. A foreign site that makes its name lead to this machine shows its name in
 * Host, one that calls us from its own page shows itself in Origin.
 */
export function strangerTrouble(
  { host, origin }: { readonly host: string | undefined; readonly origin: string | undefined },
  port: number,
): string | null {
  const ours = [`127.0.0.1:${port}`, `localhost:${port}`];
  if (host === undefined || !ours.includes(host.toLowerCase()))
    return `the bench answers at http://${ours[0]} alone; open that address`;
  if (origin !== undefined && origin !== `http://${host.toLowerCase()}`)
    return "the bench answers its own page alone; open the bench's address itself";
  return null;
}

/** On every answer. The page loads nothing from elsewhere, runs nothing written into it, and stands in no frame. */
export const guardingHeaders: Readonly<Record<string, string>> = {
  'content-security-policy': [
    "default-src 'none'",
    "script-src 'self' 'wasm-unsafe-eval'",
    "style-src 'self'",
    "font-src 'self'",
    "img-src 'self' data: blob:",
    "connect-src 'self'",
    "worker-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; '),
  'x-content-type-options': 'nosniff',
  'cache-control': 'no-store',
  'referrer-policy': 'no-referrer',
  'cross-origin-resource-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
};
