export { PROJECT_FOLDER, readConfiguration, SETTINGS } from './configuration.ts';
export type { Configuration } from './configuration.ts';
export { openJournal } from './journal.ts';
export { PROBLEMS } from './problems.ts';
export { ROUTES } from './routes/table.ts';
export { startService } from './start.ts';
export type { Service, ServiceOrder } from './start.ts';
