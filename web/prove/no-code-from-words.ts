import { config } from 'zod';

// The service's policy lets no code be made of words, and a library that tries it is reported even where it goes on.
config({ jitless: true });
