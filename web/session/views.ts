import { lazy } from 'react';
import { paths } from '../paths.ts';
import type { View } from '../view.ts';

/** How people come in. */
export const SESSION_VIEWS: readonly View[] = [
  { path: paths.signIn, isOpen: true, shows: lazy(() => import('./sign-in-view.tsx')) },
  { path: paths.invitation, isOpen: true, shows: lazy(() => import('./invitation-view.tsx')) },
];
