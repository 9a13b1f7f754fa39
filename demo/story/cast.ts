/** Somebody of the story, and what they sign in and sign with. Everybody in it is invented. */
export interface Person {
  readonly name: string;
  readonly organisation: string;
  readonly signInName: string;
  readonly password: string;
  /** Of the key file. */
  readonly passphrase: string;
}

/** Who plays: both sides of the title, and somebody who is given sight of it. */
export interface Cast {
  readonly publisher: Person;
  readonly printer: Person;
  readonly author: Person;
}

/** The people of “A Winter’s Round”. */
export const CAST: Cast = {
  publisher: {
    name: 'Mirja Sølvang',
    organisation: 'Edition Laternengang',
    signInName: 'mirja',
    password: 'zwölf Abende im Schnee',
    passphrase: 'Öl bis halb zehn',
  },
  printer: {
    name: 'Jonas Achterfeld',
    organisation: 'Druckwerk Tannhöhe',
    signInName: 'jonas',
    password: 'der Bogen liegt im Licht',
    passphrase: 'vierzig, bis es dunkel ist',
  },
  author: {
    name: 'Věra Ansgård',
    organisation: 'Věra Ansgård, author',
    signInName: 'vera',
    password: 'der Kasten bleibt zu',
    passphrase: 'the children asked for the cat',
  },
};

/** The title of the story, as both sides call it. */
export const TITLE = 'A Winter’s Round';
