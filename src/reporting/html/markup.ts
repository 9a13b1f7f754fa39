import { printable } from '../words/printable.ts';

/** A piece of HTML or SVG that is safe to set into a page as it stands. Only `html` makes one. */
export interface Markup {
  readonly markup: string;
}

type Value = Markup | string | number | null | false | readonly Value[];

/**
 * A template whose values are escaped unless they are markup already; null and false leave nothing. Safe in text and in
 * double-quoted attributes, for file names of any kind (see `printable`).
 */
export function html(parts: TemplateStringsArray, ...values: readonly Value[]): Markup {
  return { markup: parts.map((part, index) => part + render(values[index] ?? null)).join('') };
}

function render(value: Value): string {
  if (value === null || value === false) return '';
  if (typeof value === 'string') return escapeText(value);
  if (typeof value === 'number') return String(Math.round(value * 1000) / 1000);
  return 'markup' in value ? value.markup : value.map(render).join('');
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

function escapeText(text: string): string {
  return printable(text).replace(/[&<>"']/g, (character) => ENTITIES[character] ?? '');
}
