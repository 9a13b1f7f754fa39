import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** The book as spreads. */
export const BOOK_VIEWS: readonly View[] = [
  { path: paths.book(':titleId', ':fileId'), shows: lazy(() => import('./book-view.tsx')), isWide: true },
];
