import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** What waits, the titles, and one of them. */
export const TITLE_VIEWS: readonly View[] = [
  { path: paths.home, shows: lazy(() => import('./home-view.tsx')) },
  { path: paths.newTitle, shows: lazy(() => import('./new-title-view.tsx')) },
  { path: paths.title(':titleId'), shows: lazy(() => import('./title-view.tsx')) },
];
