import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** Findings: all of a file, and one. */
export const DECIDE_VIEWS: readonly View[] = [
  { path: paths.findings(':titleId', ':fileId'), shows: lazy(() => import('./findings-view.tsx')) },
  { path: paths.finding(':titleId', ':fileId', ':findingId'), shows: lazy(() => import('./finding-view.tsx')) },
];
