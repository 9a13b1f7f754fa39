import type { Weight } from '../../call/answers.ts';
import { figures } from './figures.ts';

const short: Readonly<Record<Weight, readonly [string, string]>> = {
  stop: ['stop', 'stops'],
  look: ['to look at', 'to look at'],
  note: ['note', 'notes'],
};

/** The book as spreads. */
export const book = {
  heading: 'The book',
  spreads: 'Spreads in order',
  dummy: 'The dummy that was signed',
  revision: 'This file',
  toFindings: 'All findings',
  page: (of: 'dummy' | 'revision', page: number) => (of === 'dummy' ? `Dummy, page ${page}` : `Page ${page}`),
  unreadable: 'This page cannot be read',
  mark: (weight: Weight, count: number) => figures.some(count, ...short[weight]),
  marked: (weight: Weight, count: number) =>
    `${figures.some(count, 'finding', 'findings')}, ${{ stop: 'which stops it', look: 'to look at', note: 'noted' }[weight]}`,
  moved: (from: number, to: number) => `Page ${from} of the dummy stands at ${to} in this file.`,
  movedKey: (count: number) =>
    `A thread leads from where a page stood to where it stands (${figures.some(count, 'page', 'pages')}).`,
};
