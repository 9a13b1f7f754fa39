/** The room's door for a thread that only reads what arrives, without any of the libraries. */
export { ArrivingFile, type ArrivedFile, type HashedData } from '../pdf/arriving-file.ts';
