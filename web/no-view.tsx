import { Link } from 'wouter';
import { paths } from './paths.ts';
import { Page } from './pieces/page.tsx';
import { words } from './words/index.ts';

/** For an address that is none. */
export function NoView() {
  return (
    <Page title={words.frame.nothingHere}>
      <p>
        {words.frame.nothingHereSays} <Link href={paths.home}>{words.frame.toTitles}</Link>
      </p>
    </Page>
  );
}
