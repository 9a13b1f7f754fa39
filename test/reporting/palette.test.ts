import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { PALETTE, SIGNAL_ON_MAP } from '../../src/reporting/palette.ts';

const STYLE = new URL('../../src/reporting/html/style/', import.meta.url);
const css = readdirSync(STYLE)
  .map((name) => readFileSync(new URL(name, STYLE), 'utf8'))
  .join('\n');

function luminance(hex: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** WCAG 2.2, "contrast ratio". */
function contrast(one: string, other: string): number {
  const [lighter, darker] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (lighter + 0.05) / (darker + 0.05);
}

describe('the contrast by which colours are judged', () => {
  it.each([
    ['#000000', '#ffffff', 21],
    ['#767676', '#ffffff', 4.5422],
    ['#777777', '#ffffff', 4.4781],
    ['#008000', '#ffffff', 5.1374],
  ])('%s on %s is %f', (one, other, ratio) => expect(contrast(one, other)).toBeCloseTo(ratio, 4));
});

describe.each(Object.entries(PALETTE))('the %s palette', (_, colours) => {
  it.each([
    ['ink', 'paper'],
    ['ink', 'leaf'],
    ['faded', 'paper'],
    ['faded', 'leaf'],
  ] as const)('sets %s on %s at 4.5:1 or more, for text (WCAG 1.4.3)', (text, ground) => {
    expect(contrast(colours[text], colours[ground])).toBeGreaterThanOrEqual(4.5);
  });

  it.each([
    ['signal', 'paper'],
    ['signal', 'leaf'],
  ] as const)('sets %s on %s at 3:1 or more, for signs and focus (WCAG 1.4.11)', (sign, ground) => {
    expect(contrast(colours[sign], colours[ground])).toBeGreaterThanOrEqual(3);
  });

  it('is the one of the style sheet', () => {
    for (const [name, value] of Object.entries(colours)) expect(css).toContain(`--${name}: ${value};`);
  });
});

describe('marks over photographs', () => {
  const light = '#fffdf7';
  const signal = `#${SIGNAL_ON_MAP.map((level) => level.toString(16).padStart(2, '0')).join('')}`;

  it('stand off from any grey: either the light casing or the line has 3:1', () => {
    const greys = Array.from({ length: 256 }, (_, level) => `#${level.toString(16).padStart(2, '0').repeat(3)}`);
    const hidden = greys.filter((grey) => Math.max(contrast(grey, light), contrast(grey, signal)) < 3);
    // Where neither does, line and casing still stand off from each other.
    expect(contrast(light, signal)).toBeGreaterThanOrEqual(4.5);
    expect(hidden.length).toBeLessThan(64);
  });

  it('have the colour of the legend and of the difference map', () => {
    expect(signal).toBe(PALETTE.light.signal);
    expect(css).toContain(`background: ${signal};`);
  });
});
