declare module '*.css';
declare module '@fontsource/source-serif-4/*';
