/** A value that JSON can carry. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [name: string]: Json };

const LINE = 120;

/**
 * JSON as a person likes to read it and as it can be compared line by line: two spaces a level, what fits on a line of
 * 120 characters stays on one, members in the order given. Ends without a newline.
 */
export function layOutJson(value: Json): string {
  return layOut(value, '', 0);
}

/** `used`: columns of the line that are taken before and after the value. */
function layOut(value: Json, indent: string, used: number): string {
  const flat = flatten(value);
  if (typeof value !== 'object' || value === null || flat.length + used <= LINE) return flat;
  const inner = `${indent}  `;
  const member = (name: string, content: Json): string => {
    const lead = inner + name;
    return lead + layOut(content, inner, lead.length + 1);
  };
  const members = isList(value)
    ? value.map((content) => member('', content))
    : Object.entries(value).map(([name, content]) => member(`${JSON.stringify(name)}: `, content));
  const [open, close] = isList(value) ? ['[', ']'] : ['{', '}'];
  return members.length === 0 ? flat : `${open}\n${members.join(',\n')}\n${indent}${close}`;
}

function isList(value: Json): value is readonly Json[] {
  return Array.isArray(value);
}

function flatten(value: Json): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  if (isList(value)) return `[${value.map(flatten).join(', ')}]`;
  const members = Object.entries(value).map(([name, member]) => `${JSON.stringify(name)}: ${flatten(member)}`);
  return members.length === 0 ? '{}' : `{ ${members.join(', ')} }`;
}
