/** What stands around every view. */
export const frame = {
  brand: 'Witness Leaf',
  skip: 'Skip to the page',
  ways: 'Ways through the house',
  above: 'Where this belongs',
  titles: 'Titles',
  keys: 'Keys',
  people: 'People',
  running: 'Archive',
  account: 'Account',
  signOut: 'Sign out',
  signedInAs: (name: string) => `Signed in as ${name}`,
  titleOf: (view: string) => `${view} – Witness Leaf`,
  caution:
    'The pages on this screen are a simulation: a colour proof and the pass on press decide colour. What is kept here is evidence, not legal advice.',
  nothingHere: 'Nothing stands here',
  nothingHereSays: 'This address names no page. Nothing is lost by it.',
  toTitles: 'To the titles.',
};
