import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inks, inkVariable, type InkName } from '@curvewright/report';

const style = readFileSync(join(import.meta.dirname, '../../src/page/style/paper.css'), 'utf8');
const [light = '', dark = ''] = style.split('@media (prefers-color-scheme: dark)');

describe('the inks of the page', () => {
  it.each(Object.keys(inks) as InkName[])('%s is that of the figures on either paper', (name) => {
    const written = (part: string): string | undefined => new RegExp(`${inkVariable(name)}: (#\\w+)`).exec(part)?.[1];
    expect([written(light), written(dark)]).toEqual([inks[name].light.toLowerCase(), inks[name].dark.toLowerCase()]);
  });
});
