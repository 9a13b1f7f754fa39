import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** Keys: one's own, and those of both sides of a title. */
export const KEY_VIEWS: readonly View[] = [
  { path: paths.keys, shows: lazy(() => import('./keys-view.tsx')) },
  { path: paths.titleKeys(':titleId'), shows: lazy(() => import('./title-keys-view.tsx')) },
];
