import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** The archive itself, and the record of a title. */
export const ARCHIVE_VIEWS: readonly View[] = [
  { path: paths.running, shows: lazy(() => import('./running-view.tsx')) },
  { path: paths.record(':titleId'), shows: lazy(() => import('./record-view.tsx')) },
];
