/** Coming in and going. */
export const session = {
  welcome: 'Sign in',
  welcomeSays:
    'Here the signed dummy of a book and every later file are held against each other, and both parties decide what differs.',
  signIn: 'Sign in',
  signingIn: 'Signing in',
  signInName: 'Your sign-in name',
  password: 'Password',
  ranOut: 'Please sign in again',
  nothingLost: 'Your session has run out. Whatever you have written is still here; after signing in you go on with it.',
  invitation: {
    title: 'An account for Witness Leaf',
    opening: 'Opening the invitation',
    first: 'Nobody is in yet: this makes the first account, and with it the first party.',
    guest: (person: string, party: string) => `For ${person}, of ${party}.`,
    party: 'Your publishing house, printing house or studio',
    partyHint: 'As it will stand in certificates; up to 64 characters.',
    person: 'Your name',
    personHint: 'As your certificate will have it: it stands under what you sign.',
    signInNameHint: 'Only you use it, to sign in. Large and small letters are the same.',
    passwordHint: '12 characters or more. A short sentence that only you would say is good.',
    make: 'Make the account',
    making: 'Making the account',
  },
};
