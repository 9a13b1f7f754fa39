/** What several views say. */
export const pieces = {
  close: 'Close',
  again: 'Try again',
  oneMoment: 'One moment.',
  showing: 'Showing this page',
};
