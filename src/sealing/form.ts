import { Refusal, type Json } from '../model/index.ts';

/** Reads a value of one form, or refuses it under the pointer where it stands. */
export type Form<T> = (value: Json | undefined, pointer: string) => T;

/** Refuses a value. @throws {Refusal} malformed: always; what had to stand there, and what does */
export function refuseForm(pointer: string, expected: string, value: Json | undefined): never {
  const found = value === undefined ? 'nothing' : JSON.stringify(value).slice(0, 80);
  throw new Refusal('malformed', { pointer: pointer === '' ? '/' : pointer, expected, found });
}

/** Text that a test takes, said in words. */
export function textForm(isRight: (text: string) => boolean, expected: string): Form<string> {
  return (value, pointer) =>
    typeof value === 'string' && isRight(value) ? value : refuseForm(pointer, expected, value);
}

/** One of some words. */
export function wordForm<const W extends string>(words: readonly W[]): Form<W> {
  return (value, pointer) => words.find((word) => word === value) ?? refuseForm(pointer, words.join(' or '), value);
}

/** A whole number from 0 that ECMAScript holds exactly. */
export const countForm: Form<number> = (value, pointer) =>
  Number.isSafeInteger(value) && (value as number) >= 0
    ? (value as number)
    : refuseForm(pointer, 'a whole number from 0', value);

/**
 * A list of at least so many members, and of no more than the limit.
 *
 * @throws {Refusal} malformed: no list, or too short a one; too-large: too long a one
 */
export function listForm<T>(
  member: Form<T>,
  { atLeast, atMost }: { atLeast: number; atMost: number },
): Form<readonly T[]> {
  return (value, pointer) => {
    if (!isList(value) || value.length < atLeast) return refuseForm(pointer, `a list of at least ${atLeast}`, value);
    if (value.length > atMost) {
      throw new Refusal('too-large', { what: pointer, limit: atMost, found: value.length, unit: 'members' });
    }
    return value.map((one, at) => member(one, `${pointer}/${at}`));
  };
}

/** An object with exactly these members: one too many is refused like one too few, for it would be signed unread. */
export function objectForm<T extends object>(members: { readonly [Name in keyof T]: Form<T[Name]> }): Form<T> {
  return (value, pointer) => {
    if (value === null || typeof value !== 'object' || isList(value)) return refuseForm(pointer, 'an object', value);
    const given = value as Readonly<Record<string, Json>>;
    const names = Object.keys(members);
    const stranger = Object.keys(given).find((name) => !names.includes(name));
    if (stranger !== undefined) return refuseForm(`${pointer}/${stranger}`, 'no such member', given[stranger]);
    const read = Object.entries<Form<unknown>>(members).map(([name, form]) => [
      name,
      form(Object.hasOwn(given, name) ? given[name] : undefined, `${pointer}/${name}`),
    ]);
    return Object.fromEntries(read) as T;
  };
}

function isList(value: Json | undefined): value is readonly Json[] {
  return Array.isArray(value);
}
