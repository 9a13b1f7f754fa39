import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** What can be proved, and the checking of a proof. */
export const PROVE_VIEWS: readonly View[] = [
  { path: paths.evidence(':titleId'), shows: lazy(() => import('./evidence-view.tsx')) },
  { path: paths.verify, isOpen: true, shows: lazy(() => import('./verify-view.tsx')) },
];
