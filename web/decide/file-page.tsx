import { useSuspenseQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { fileQuery } from '../files/queries.ts';
import { paths } from '../paths.ts';
import { Page, type Step } from '../pieces/page.tsx';
import { words } from '../words/index.ts';
import { useSide } from './use-side.ts';

interface FilePageGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly title: string;
  /** Between the file and this view. */
  readonly above?: readonly Step[];
  readonly children: ReactNode;
}

/** A view of something of a file, with the way back up through the file, its part and its title. */
export function FilePage({ titleId, fileId, title, above = [], children }: FilePageGiven) {
  const { data: file } = useSuspenseQuery(fileQuery(titleId, fileId));
  const { titleName, partName } = useSide(titleId);
  const steps = [
    { to: paths.home, name: words.titles.heading },
    { to: paths.title(titleId), name: titleName },
    { to: paths.part(titleId, file.part), name: partName(file.part) },
    { to: paths.file(titleId, fileId), name: words.titles.fileKind(file.kind, file.revisionNumber) },
    ...above,
  ];
  return (
    <Page title={title} above={steps}>
      {children}
    </Page>
  );
}
