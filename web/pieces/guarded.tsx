import { QueryErrorResetBoundary } from '@tanstack/react-query';
import { Component, Suspense } from 'react';
import type { ReactNode } from 'react';
import { words } from '../words/index.ts';
import { TroubleNotice } from './trouble-notice.tsx';

/** Shows what is still coming as coming, and what failed as trouble with a way to try again. */
export function Guarded({ children }: { readonly children: ReactNode }) {
  return (
    <QueryErrorResetBoundary>
      {({ reset }) => (
        <Guard onRetry={reset}>
          <Suspense fallback={<p role="status">{words.pieces.oneMoment}</p>}>{children}</Suspense>
        </Guard>
      )}
    </QueryErrorResetBoundary>
  );
}

interface GuardGiven {
  readonly onRetry: () => void;
  readonly children: ReactNode;
}

class Guard extends Component<GuardGiven, { readonly error: unknown }> {
  override state = { error: undefined as unknown };

  static getDerivedStateFromError(error: unknown) {
    return { error };
  }

  override render() {
    const { error } = this.state;
    if (error === undefined) return this.props.children;
    const retry = (): void => {
      this.props.onRetry();
      this.setState({ error: undefined });
    };
    return <TroubleNotice error={error} doing={words.pieces.showing} onRetry={retry} />;
  }
}
