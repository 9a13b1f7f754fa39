/**
 * The rooms of src/ and who may enter whom. Imports run downward only, through a room's door (its index.ts), and each
 * room names its packages. Type imports and `export … from` count. test/house/rooms.test.ts plants a breach of each
 * rule, so a rule that never fires is noticed.
 */

const PURE = ['model', 'ledger', 'sealing', 'evidence', 'comparing', 'plates'];

/** Packages of the pages. */
const PAGES = [
  'react',
  'react-dom',
  'wouter',
  '@tanstack/react-query',
  '@tanstack/react-virtual',
  'tus-js-client',
  '@zip.js/zip.js',
  'zod',
].concat(['@fontsource/source-serif-4']);

/** For each room: the rooms it may open, the packages it may use, and why no others. */
const ROOMS = {
  model: { opens: [], packages: [], why: 'the words stand on nothing, so that everything can stand on them' },
  ledger: {
    opens: ['model'],
    packages: [],
    why: 'a browser must be able to check a proof with this room and the words alone',
  },
  sealing: {
    opens: ['model'],
    packages: ['asn1js', 'pkijs'],
    why: 'people sign in the browser: keys and certificates know nothing of files and pages',
  },
  evidence: {
    opens: ['sealing', 'ledger', 'model'],
    packages: ['zod'],
    why: 'whoever has a pack checks it with its bytes alone: at a terminal, or dropped on a page',
  },
  comparing: {
    opens: ['model'],
    packages: [],
    why: 'values in, values out: what it says of two books must not depend on how they were read',
  },
  plates: {
    opens: ['comparing', 'model'],
    packages: [],
    why: 'a sheet is taken apart into pages, which are then compared like any others',
  },
  reading: {
    opens: ['model'],
    packages: ['pdfjs-dist', '@napi-rs/canvas', 'sharp', '@cantoo/pdf-lib', 'yauzl'],
    why: 'a file in, facts out: whoever reads must not know what will be compared',
  },
  archive: {
    opens: ['plates', 'comparing', 'reading', 'sealing', 'ledger', 'model'],
    packages: [],
    why: 'it keeps what the rooms below make and knows nothing of how it is shown',
  },
  reporting: {
    opens: ['archive', 'evidence', 'plates', 'comparing', 'reading', 'sealing', 'ledger', 'model'],
    packages: ['sharp', 'pdfkit', 'zod', '@cantoo/pdf-lib', 'qrcode', 'yazl'],
    why: 'a report is made of what was kept, for whoever asks: terminal, service or file',
  },
  service: {
    opens: ['reporting', 'archive', 'evidence', 'sealing', 'ledger', 'model'],
    packages: ['express', 'zod', 'zod-openapi', 'helmet', 'express-rate-limit', 'pino', 'busboy', '@node-rs/argon2'],
    why: 'routes ask the archive and the reports; they compare and read nothing themselves',
  },
  command: {
    opens: [
      'service',
      'reporting',
      'archive',
      'evidence',
      'plates',
      'comparing',
      'reading',
      'sealing',
      'ledger',
      'model',
    ],
    packages: ['tus-js-client'],
    why: 'a command reads its arguments, calls a room and prints; whatever needs a package belongs below',
  },
};

const escaped = (name) => name.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&');
const oneOf = (names) => `(${names.map(escaped).join('|')})`;
const room = (name) => `^src/${name}/`;

const directions = Object.entries(ROOMS).map(([name, { opens, why }]) => ({
  name: `${name}-opens-only-what-is-below`,
  comment: `${why}.`,
  severity: 'error',
  from: { path: room(name) },
  to: { path: '^src/', pathNot: [name, ...opens].map(room) },
}));

const packages = Object.entries(ROOMS).map(([name, { packages: allowed }]) => ({
  name: `${name}-has-its-own-packages`,
  comment: `A package that only one room knows can be exchanged; here: ${allowed.join(', ') || 'none'}.`,
  severity: 'error',
  from: { path: room(name) },
  to: {
    path: '(^|/)node_modules/',
    ...(allowed.length > 0 ? { pathNot: `(^|/)node_modules/(@types/)?${oneOf(allowed)}/` } : {}),
  },
}));

module.exports = {
  forbidden: [
    ...directions,
    ...packages,
    {
      name: 'pure-rooms-touch-no-machine',
      comment: 'Pure rooms also run in a browser, and the same values must give the same findings anywhere.',
      severity: 'error',
      from: { path: `^src/${oneOf(PURE)}/` },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'a-room-has-one-door',
      comment:
        'What a room offers stands in its index.ts; whatever is behind it may change without asking. The pool, what reads files that still arrive, a check of two files and its reports have doors of their own, without the libraries.',
      severity: 'error',
      from: { path: '^src/([^/]+)/' },
      to: {
        path: '^src/[^/]+/.',
        pathNot: [
          '^src/$1/',
          '^src/[^/]+/index\\.ts$',
          '^src/(reading/(pool|arriving)|archive/check|reporting/report)/index\\.ts$',
        ],
      },
    },
    {
      name: 'no-file-outside-a-room',
      comment: 'A file that lies in no room is under no rule.',
      severity: 'error',
      from: {},
      to: { path: '^src/[^/]+$' },
    },
    {
      name: 'no-room-without-a-rule',
      comment: 'A new room names what it may open before anybody opens it.',
      severity: 'error',
      from: {},
      to: { path: '^src/[^/]+/', pathNot: `^src/${oneOf(Object.keys(ROOMS))}/` },
    },
    {
      name: 'no-cycles',
      comment: 'Files that need each other cannot be understood, tested or moved one at a time.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'nothing-from-tests-or-demo',
      comment: 'The product must not lean on what only its tests and its demonstration have.',
      severity: 'error',
      from: { path: '^src/' },
      to: { path: '^(test|demo|\\.house)/' },
    },
    {
      name: 'the-browser-opens-five-doors',
      comment:
        'web/ is a client of the service; it signs, verifies and reads a colour difference for itself, and does nothing else by itself.',
      severity: 'error',
      from: { path: '^web/' },
      to: { path: '^src/', pathNot: '^src/(model|sealing|ledger|evidence|comparing)/index\\.ts$' },
    },
    {
      name: 'the-browser-has-its-own-packages',
      comment: 'What the pages need is loaded by everybody who looks at them, and must run without the machine.',
      severity: 'error',
      from: { path: '^web/', pathNot: '^web/build\\.ts$' },
      to: { path: '(^|/)node_modules/', pathNot: `(^|/)node_modules/(@types/)?${oneOf(PAGES)}/` },
    },
    {
      name: 'the-browser-touches-no-machine',
      comment: 'Only what builds the pages runs on a machine.',
      severity: 'error',
      from: { path: '^web/', pathNot: '^web/build\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'nothing-unresolved',
      comment: 'An import that cannot be found is under no rule.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default', 'types'] },
  },
};
