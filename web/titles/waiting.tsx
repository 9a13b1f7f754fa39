import { Link } from 'wouter';
import type { TitleOnDesk, Wait } from '../call/answers.ts';
import { paths } from '../paths.ts';
import { Mark } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';

const said = words.titles;

/** Where each thing that waits is done. */
const WAYS: Readonly<Record<Wait['what'], (titleId: string, fileId: string) => string>> = {
  'failed-file': paths.file,
  'dummy-to-sign': paths.sign,
  'findings-to-rule-on': paths.findings,
  'release-to-sign': paths.release,
};

/** What waits for whoever is signed in, over all titles: the newest title first. */
export function Waiting({ titles }: { readonly titles: readonly TitleOnDesk[] }) {
  const all = titles.flatMap((title) =>
    title.parts.flatMap((part) => part.waits.map((wait) => ({ title, part, wait }))),
  );
  return (
    <section className="section" aria-labelledby="waiting">
      <h2 id="waiting">{said.waiting}</h2>
      {all.length === 0 ? (
        <p className="soft">{said.nothingWaits}</p>
      ) : (
        <ul className="waits">
          {all.map(({ title, part, wait }) => (
            <li key={`${part.id} ${wait.what} ${wait.file}`}>
              <Link className="wait leaf" href={WAYS[wait.what](title.id, wait.file)}>
                <span className={wait.what === 'failed-file' ? 'wait-mark tone-stop' : 'wait-mark tone-look'}>
                  <Mark tone={wait.what === 'failed-file' ? 'stop' : 'look'} />
                </span>
                <span className="wait-what">{said.wait(wait.what, wait.findings)}</span>
                <span className="soft small">{said.waitIn(part.name, title.name)}</span>
              </Link>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
