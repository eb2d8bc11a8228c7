import { dirname } from 'node:path';
import { readShop, type Outcome, type Shop } from '@curvewright/board';
import { readText } from './files.ts';
import { nearestFile } from './nearest-file.ts';

/** What a shop's file is called. */
const usualName = 'shop.yaml';

export interface OpenShop {
  readonly file: string;
  readonly shop: Shop;
}

/** The nearest `shop.yaml` in the job's folder or one above it; null where there is none. */
export function openShop(job: string): Outcome<OpenShop | null> {
  const file = nearestFile(dirname(job), usualName);
  if (file === null) return { ok: true, value: null };
  const text = readText(file);
  if (!text.ok) return text;
  const shop = readShop(text.value, file);
  return shop.ok ? { ok: true, value: { file, shop: shop.value } } : shop;
}
