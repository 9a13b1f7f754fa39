import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** Imposed sheets. */
export const SHEET_VIEWS: readonly View[] = [
  { path: paths.sheets(':titleId', ':fileId'), shows: lazy(() => import('./sheets-view.tsx')), isWide: true },
];
