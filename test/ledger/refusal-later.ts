import { refusalOf } from '../refusal-of.ts';

/** `refusalOf` for a call that answers later. */
export async function refusalLater(call: () => Promise<unknown>): Promise<unknown> {
  const outcome = await call().then(
    () => () => undefined,
    (error: unknown) => () => {
      throw error;
    },
  );
  return refusalOf(outcome);
}
