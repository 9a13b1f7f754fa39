import { AsyncLocalStorage } from 'node:async_hooks';
import type { Database } from './database.ts';

/** How a table's file comes to the database: looking never waits, writing goes one after the other. */
export interface Access {
  read<T>(look: (database: Database) => T): Promise<T>;
  /** All of `work` or nothing; on disk when it returns. */
  write<T>(work: (database: Database) => T): Promise<T>;
}

/** An access with transactions that last over several calls. */
export interface OuterAccess extends Access {
  /** Hands out an access whose calls are all of one transaction, which ends when `work` does. */
  together<T>(work: (inside: Access) => Promise<T>): Promise<T>;
}

/**
 * Two connections to one file: one that writes, one that only sees what was committed.
 *
 * Transactions wait for each other in line. Writing past the transaction that one is in would wait for itself, so it is
 * noticed and thrown as the bug it is.
 */
export function accessTo({ writer, reader }: { readonly writer: Database; readonly reader: Database }): OuterAccess {
  const within = new AsyncLocalStorage<{ isOpen: boolean }>();
  let last: Promise<unknown> = Promise.resolve();
  const inLine = <T>(work: (inside: Access) => T | Promise<T>): Promise<T> => {
    if (within.getStore()?.isOpen === true) return Promise.reject(new Error('a write past the transaction it is in'));
    const turn = last.then(() => {
      const transaction = { isOpen: true };
      const inside: Access = {
        read: async (look) => look(stillOpen(transaction, writer)),
        write: async (change) => change(stillOpen(transaction, writer)),
      };
      return within.run(transaction, () =>
        transact(writer, () => work(inside)).finally(() => (transaction.isOpen = false)),
      );
    });
    last = turn.catch(() => undefined);
    return turn;
  };
  return {
    read: async (look) => look(reader),
    write: (work) => inLine(() => work(writer)),
    together: inLine,
  };
}

function stillOpen(transaction: { readonly isOpen: boolean }, writer: Database): Database {
  if (!transaction.isOpen) throw new Error('a call of a transaction that has ended');
  return writer;
}

async function transact<T>(writer: Database, work: () => T | Promise<T>): Promise<T> {
  writer.exec('BEGIN IMMEDIATE');
  try {
    const result = await work();
    writer.exec('COMMIT');
    return result;
  } catch (error) {
    rollBack(writer);
    throw error;
  }
}

/** Where the disk was full or failed, the database has rolled back by itself and says so. */
function rollBack(writer: Database): void {
  try {
    writer.exec('ROLLBACK');
  } catch {
    return;
  }
}
