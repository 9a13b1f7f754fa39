import type { TroubleKind } from '../../call/trouble.ts';

interface Told {
  readonly happened: string;
  readonly safe: string;
  readonly next: string;
}

const kinds: Readonly<Record<TroubleKind, Told>> = {
  malformed: {
    happened: 'something does not fit',
    safe: 'Nothing was changed.',
    next: 'Please correct it and send it again.',
  },
  unidentified: {
    happened: 'you are not signed in',
    safe: 'Nothing was changed.',
    next: 'Please check the name and the password, or sign in again.',
  },
  'not-allowed': {
    happened: 'you may not do this',
    safe: 'Nothing was changed.',
    next: 'Somebody of your party who may sign can give you the right.',
  },
  'not-found': {
    happened: 'there is nothing of this name',
    safe: 'Nothing was changed.',
    next: 'It may have been meant for somebody else, or have been used already.',
  },
  'no-such-method': {
    happened: 'this cannot be done here',
    safe: 'Nothing was changed.',
    next: 'Please load the page again.',
  },
  'out-of-step': {
    happened: 'things have moved on',
    safe: 'Nothing of yours was lost, and nothing was changed.',
    next: 'Look at how it stands now, then decide anew.',
  },
  'condition-failed': {
    happened: 'somebody changed it in the meantime',
    safe: 'Their change stands, yours was not made.',
    next: 'Look at how it stands now, then decide anew.',
  },
  unsettled: {
    happened: 'findings are open',
    safe: 'Nothing was released.',
    next: 'Rule on what is open first.',
  },
  'too-large': {
    happened: 'it is over a limit',
    safe: 'Nothing was changed.',
    next: 'Please send less at once, or ask whoever runs this service.',
  },
  'unfit-media': {
    happened: 'it is not in a form that is taken here',
    safe: 'Nothing was changed.',
    next: 'Please load the page again.',
  },
  'no-such-range': {
    happened: 'a piece of it is not there',
    safe: 'What is kept is unharmed.',
    next: 'Please load the page again.',
  },
  unreadable: {
    happened: 'the file cannot be read',
    safe: 'The file is kept as it came.',
    next: 'Please write it anew from its program and send it again.',
  },
  unproven: {
    happened: 'a proof does not hold',
    safe: 'Nothing was taken into the record.',
    next: 'Do not sign on this. Ask the other side by telephone.',
  },
  'too-many': {
    happened: 'it was asked too often',
    safe: 'Nothing was changed.',
    next: 'Please wait a minute.',
  },
  fault: {
    happened: 'the program has a fault',
    safe: 'What was kept before is unharmed.',
    next: 'Please try again; if it stays, tell whoever runs this service.',
  },
  unavailable: {
    happened: 'it is not possible at the moment',
    safe: 'Nothing is lost.',
    next: 'Please try again in half a minute.',
  },
  unreachable: {
    happened: 'the service cannot be reached',
    safe: 'What was sent before is safe, and what you wrote is still here.',
    next: 'Check the connection; the page goes on by itself where it can.',
  },
};

/** What every kind of trouble means: what happened, what is safe, what to do next. */
export const trouble = {
  ...kinds,
  title: (doing: string, happened: string) => `${doing}: ${happened}.`,
  /** What the service says of it, as a sentence. */
  detail: (message: string) =>
    `${message.charAt(0).toUpperCase()}${message.slice(1)}${/[.!?]$/.test(message) ? '' : '.'}`,
};
