/** Calls that wait until somebody has signed in again, and the dialog that lets them. */
type Answer = (isRenewed: boolean) => void;

const waiting: Answer[] = [];
const listeners = new Set<() => void>();

/** For a call whose session has run out. @returns whether there is one again */
export function waitForSession(): Promise<boolean> {
  return new Promise((answer) => {
    waiting.push(answer);
    tell();
  });
}

/** Whether any call waits. */
export function isSessionWanted(): boolean {
  return waiting.length > 0;
}

/** Lets every waiting call go on, or fail. */
export function endWaiting(isRenewed: boolean): void {
  for (const answer of waiting.splice(0)) answer(isRenewed);
  tell();
}

/** Hears when that changes. @returns how to stop hearing */
export function onSessionWanted(listener: () => void): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}

function tell(): void {
  for (const listener of listeners) listener();
}
