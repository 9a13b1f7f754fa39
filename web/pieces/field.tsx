import { useId } from 'react';
import type { ReactNode } from 'react';

/** What ties a control to its label, hint and complaint. */
export interface FieldIds {
  readonly id: string;
  readonly 'aria-describedby'?: string;
  readonly 'aria-invalid'?: true;
}

interface FieldGiven {
  readonly label: string;
  readonly hint?: ReactNode;
  readonly wrong?: string | undefined;
  readonly children: (ids: FieldIds) => ReactNode;
}

/** A labelled control with a hint under it and, where it does not fit, what is wrong. */
export function Field({ label, hint, wrong, children }: FieldGiven) {
  const id = useId();
  const described = [hint !== undefined && `${id}-hint`, wrong !== undefined && `${id}-wrong`]
    .filter(Boolean)
    .join(' ');
  const ids: FieldIds = {
    id,
    ...(described === '' ? {} : { 'aria-describedby': described }),
    ...(wrong === undefined ? {} : { 'aria-invalid': true }),
  };
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      {children(ids)}
      {hint !== undefined && (
        <span className="hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {wrong !== undefined && (
        <span className="wrong" id={`${id}-wrong`}>
          {wrong}
        </span>
      )}
    </div>
  );
}
