import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** People, who sees a title, and one's own account. */
export const PEOPLE_VIEWS: readonly View[] = [
  { path: paths.people, shows: lazy(() => import('./people-view.tsx')) },
  { path: paths.sight(':titleId'), shows: lazy(() => import('./sight-view.tsx')) },
  { path: paths.account, shows: lazy(() => import('./account-view.tsx')) },
];
