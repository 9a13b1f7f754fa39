import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** The close look at a page. */
export const LOOK_VIEWS: readonly View[] = [
  {
    path: paths.look(':titleId', ':fileId', ':pageNumber'),
    shows: lazy(() => import('./look-view.tsx')),
    isWide: true,
  },
];
