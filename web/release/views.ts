import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** What is signed of a whole file: a dummy, and its release to plates. */
export const RELEASE_VIEWS: readonly View[] = [
  { path: paths.sign(':titleId', ':fileId'), shows: lazy(() => import('./sign-view.tsx')) },
  { path: paths.release(':titleId', ':fileId'), shows: lazy(() => import('./release-view.tsx')) },
];
