import { Link, useLocation } from 'wouter';
import { paths } from '../paths.ts';
import { words } from '../words/index.ts';
import { useKeys } from './use-keys.ts';

interface TurningGiven {
  readonly titleId: string;
  readonly fileId: string;
  /** The pages that are shown. */
  readonly shown: readonly number[];
  readonly pages: number;
  readonly isSpread: boolean;
}

const said = words.look;

/** To the pages before and after, by press and by the arrow keys; and between a page and its spread. */
export function PageTurning({ titleId, fileId, shown, pages, isSpread }: TurningGiven) {
  const [, go] = useLocation();
  const [first, last] = [shown[0] ?? 1, shown.at(-1) ?? 1];
  const to = (page: number, asSpread = isSpread): string =>
    paths.look(titleId, fileId, page) + (asSpread ? '?spread' : '');
  const before = first > 1 ? to(first - 1) : null;
  const after = last < pages ? to(last + 1) : null;
  const turn = (there: string | null) => ({ press: () => void (there !== null && go(there)) });
  useKeys({ ArrowLeft: turn(before), ArrowRight: turn(after) });
  const link = (there: string | null, name: string) =>
    there === null ? null : (
      <Link className="button" href={there}>
        {name}
      </Link>
    );
  return (
    <>
      {link(before, isSpread ? said.spreadBefore : said.pageBefore)}
      {link(after, isSpread ? said.spreadAfter : said.pageAfter)}
      <Link href={to(first, !isSpread)}>{isSpread ? said.single : said.spread}</Link>
    </>
  );
}
