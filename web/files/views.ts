import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** A part with its files, and one of them. */
export const FILE_VIEWS: readonly View[] = [
  { path: paths.part(':titleId', ':partId'), shows: lazy(() => import('./part-view.tsx')) },
  { path: paths.file(':titleId', ':fileId'), shows: lazy(() => import('./file-view.tsx')) },
];
