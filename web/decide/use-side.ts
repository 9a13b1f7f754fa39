import { useSuspenseQuery } from '@tanstack/react-query';
import type { Party } from '../../src/model/index.ts';
import { useMay } from '../session/me.ts';
import { titleQuery } from '../titles/queries.ts';

/** What one is to a title, and the names of both sides. */
export interface OwnSide {
  readonly titleName: string;
  /** Null: one only sees it. */
  readonly side: Party | null;
  readonly maySign: boolean;
  readonly names: Readonly<Record<Party, string>>;
  readonly partName: (partId: string) => string;
}

/** Who one is to a title. */
export function useSide(titleId: string): OwnSide {
  const { data } = useSuspenseQuery(titleQuery(titleId));
  const mayEver = useMay('sign');
  const { name, standing, publisher, printer, parts } = data.value;
  return {
    titleName: name,
    side: standing === 'sight' ? null : standing,
    maySign: mayEver && standing !== 'sight',
    names: { publisher: publisher.name, printer: printer.name },
    partName: (partId) => parts.find(({ id }) => id === partId)?.name ?? '',
  };
}
