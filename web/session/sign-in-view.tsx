import { useQueryClient } from '@tanstack/react-query';
import { useLocation, useSearchParams } from 'wouter';
import { Page } from '../pieces/page.tsx';
import { paths } from '../paths.ts';
import { words } from '../words/index.ts';
import { meQuery } from './me.ts';
import { SignInForm } from './sign-in-form.tsx';

/** Signs in, then goes on to where somebody wanted to be. */
export default function SignInView() {
  const queries = useQueryClient();
  const [, go] = useLocation();
  const [search] = useSearchParams();
  const wanted = search.get('to') ?? paths.home;
  return (
    <Page title={words.session.welcome}>
      <div className="stack">
        <p className="soft">{words.session.welcomeSays}</p>
        <SignInForm
          onSignedIn={(me) => {
            queries.clear();
            queries.setQueryData(meQuery.queryKey, me);
            // Only ever to a page of this service.
            go(/^\/(?![/\\])/.test(wanted) ? wanted : paths.home, { replace: true });
          }}
        />
      </div>
    </Page>
  );
}
