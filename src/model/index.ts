export * from './finding.ts';
export * from './limits.ts';
export * from './measure.ts';
export * from './page.ts';
export * from './picture.ts';
export * from './refusal.ts';
export * from './report.ts';
export * from './tolerance.ts';
