import { QueryClient, QueryClientProvider, useSuspenseQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Redirect, Route, Switch, useLocation } from 'wouter';
import { renewBy } from './call/call.ts';
import { troubleOf } from './call/trouble.ts';
import { Frame } from './frame.tsx';
import { paths } from './paths.ts';
import { Guarded } from './pieces/guarded.tsx';
import { meQuery } from './session/me.ts';
import { waitForSession } from './session/renewing.ts';
import { SessionDialog } from './session/session-dialog.tsx';
import type { View } from './view.ts';
import { VIEWS } from './views.ts';
import { NoView } from './no-view.tsx';

/** So often a question is asked again where the service could not answer it. */
const TRIES = 3;
/** For so long an answer is shared by what one view is made of; a view that is opened later asks anew. */
const SHARED_MS = 1000;

renewBy(waitForSession);

/** All of it: the view of the address, in its frame. */
export function Pages() {
  const [queries] = useState(newQueries);
  return (
    <QueryClientProvider client={queries}>
      <Guarded>
        <Switch>
          {VIEWS.map((view) => (
            <Route key={view.path} path={view.path}>
              {(params) => <Shown view={view} params={params as Readonly<Record<string, string>>} />}
            </Route>
          ))}
          <Route>
            <Frame>
              <NoView />
            </Frame>
          </Route>
        </Switch>
      </Guarded>
      <SessionDialog />
    </QueryClientProvider>
  );
}

function Shown({ view, params }: { readonly view: View; readonly params: Readonly<Record<string, string>> }) {
  const { data: me } = useSuspenseQuery(meQuery);
  const [path] = useLocation();
  if (me === null && view.isOpen !== true) {
    return <Redirect to={`${paths.signIn}?to=${encodeURIComponent(path)}`} replace />;
  }
  return (
    <Frame isWide={view.isWide === true}>
      <Guarded key={path}>
        <view.shows params={params} />
      </Guarded>
    </Frame>
  );
}

function newQueries(): QueryClient {
  const isPassing = (error: unknown): boolean => ['unreachable', 'unavailable'].includes(troubleOf(error).kind);
  return new QueryClient({
    defaultOptions: {
      queries: {
        staleTime: SHARED_MS,
        // What came keeps standing where the line is gone; the browser's own word about that is not asked.
        networkMode: 'always',
        retry: (count, error) => count < TRIES && isPassing(error),
      },
      mutations: { networkMode: 'always', retry: false },
    },
  });
}
