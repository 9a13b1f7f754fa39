import { useState } from 'react';
import { words } from '../words/index.ts';
import { Button } from './button.tsx';
import { Field } from './field.tsx';

interface SecretGiven {
  readonly label: string;
  readonly value: string;
  /** What the button says. */
  readonly copy: string;
}

/** A text that is shown once, to be copied. */
export function SecretField({ label, value, copy }: SecretGiven) {
  const [isCopied, setCopied] = useState(false);
  return (
    <>
      <Field label={label}>
        {(ids) => (
          <input
            {...ids}
            className="figures"
            readOnly
            value={value}
            onFocus={(event) => event.currentTarget.select()}
          />
        )}
      </Field>
      <div className="row">
        <Button onClick={() => void navigator.clipboard.writeText(value).then(() => setCopied(true))}>{copy}</Button>
        <span role="status">{isCopied ? words.people.copied : ''}</span>
      </div>
    </>
  );
}
