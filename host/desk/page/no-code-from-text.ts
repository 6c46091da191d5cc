import { config } from 'zod';

// Under the page's policy zod may not even try whether text can become code; imported before every schema.
config({ jitless: true });
