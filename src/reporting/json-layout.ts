/** A value that JSON can carry. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [name: string]: Json };

const LINE = 120;

/**
 * JSON as a person likes to read it and as it can be compared line by line: two spaces a level, what fits on a line of
 * 120 characters stays on one, members in the order given. Ends without a newline.
 */
export function layOutJson(value: Json, indent = ''): string {
  const flat = flatten(value);
  if (typeof value !== 'object' || value === null || flat.length + indent.length < LINE - 30) return flat;
  const inner = `${indent}  `;
  const members: string[] = Array.isArray(value)
    ? value.map((member: Json) => `${inner}${layOutJson(member, inner)}`)
    : Object.entries(value).map(([name, member]) => `${inner}${JSON.stringify(name)}: ${layOutJson(member, inner)}`);
  const [open, close] = Array.isArray(value) ? ['[', ']'] : ['{', '}'];
  return `${open}\n${members.join(',\n')}\n${indent}${close}`;
}

function flatten(value: Json): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(flatten).join(', ')}]`;
  const members = Object.entries(value).map(([name, member]) => `${JSON.stringify(name)}: ${flatten(member)}`);
  return members.length === 0 ? '{}' : `{ ${members.join(', ')} }`;
}
