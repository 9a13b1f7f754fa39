/** One thing that was looked at when something was to be proved, and what came of it. */
export type Check<Name extends string = string> =
  | { readonly name: Name; readonly outcome: 'holds' }
  | { readonly name: Name; readonly outcome: 'fails'; readonly expected: string; readonly found: string }
  | { readonly name: Name; readonly outcome: 'not-checked'; readonly why: string };

/** A check that did not hold: what it looked at, what had to be there and what was. */
export interface FailedCheck {
  readonly name: string;
  readonly expected: string;
  readonly found: string;
}

/** The checks that do not hold, for a refusal; one that could not be made counts as not holding. */
export function failedChecks(checks: readonly Check[]): readonly FailedCheck[] {
  return checks.flatMap((check) => {
    if (check.outcome === 'holds') return [];
    if (check.outcome === 'not-checked') return [{ name: check.name, expected: 'a check', found: check.why }];
    const { name, expected, found } = check;
    return [{ name, expected, found }];
  });
}
