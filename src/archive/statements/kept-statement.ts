import type { Statement, StatementKind, StatementOf } from '../../model/index.ts';
import type { KeptStatement } from '../catalogue/index.ts';

/** What a kept statement says. It was read and checked when it came in, so it is not checked again. */
export function saidIn(kept: Pick<KeptStatement, 'bytes'>): Statement {
  return JSON.parse(new TextDecoder().decode(kept.bytes)) as Statement;
}

/** What a kept statement says, where it is of this kind. */
export function saidAs<K extends StatementKind>(kept: Pick<KeptStatement, 'bytes'>, kind: K): StatementOf<K> | null {
  const statement = saidIn(kept);
  return statement.kind === kind ? (statement as StatementOf<K>) : null;
}
