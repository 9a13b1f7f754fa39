import { z } from 'zod';
import { openApiOf } from '../openapi.ts';
import { json } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import type { Route } from '../table/route.ts';
import { certificateRoutes } from './certificate-routes.ts';
import { checkingRoutes } from './checking-routes.ts';
import { deskRoutes } from './desk-routes.ts';
import { entranceRoutes } from './entrance-routes.ts';
import { eventRoutes } from './event-routes.ts';
import { exportRoutes } from './export-routes.ts';
import { fileRoutes } from './file-routes.ts';
import { houseRoutes } from './house-routes.ts';
import { logRoutes } from './log-routes.ts';
import { pageRoutes } from './page-routes.ts';
import { partRoutes } from './part-routes.ts';
import { peopleRoutes } from './people-routes.ts';
import { foldingRoutes } from './folding-routes.ts';
import { planRoutes } from './plan-routes.ts';
import { remarkRoutes } from './remark-routes.ts';
import { sheetRoutes } from './sheet-routes.ts';
import { statementRoutes } from './statement-routes.ts';
import { titleRoutes } from './title-routes.ts';
import { uploadRoutes } from './upload-routes.ts';

/** Of the interface, not of the program. */
const VERSION = '1.0.0';

const describing: Route = route({
  method: 'get',
  path: '/api/openapi.json',
  name: 'readDescription',
  says: 'This description.',
  who: { may: 'anybody' },
  answers: { 200: { says: 'OpenAPI 3.1', json: z.looseObject({ openapi: z.string() }) } },
  answer: async () => json(DESCRIPTION),
});

/** Every route there is. */
export const ROUTES: readonly Route[] = [
  describing,
  ...houseRoutes,
  ...entranceRoutes,
  ...peopleRoutes,
  ...titleRoutes,
  ...deskRoutes,
  ...fileRoutes,
  ...uploadRoutes,
  ...checkingRoutes,
  ...pageRoutes,
  ...sheetRoutes,
  ...planRoutes,
  ...foldingRoutes,
  ...partRoutes,
  ...remarkRoutes,
  ...certificateRoutes,
  ...statementRoutes,
  ...logRoutes,
  ...eventRoutes,
  ...exportRoutes,
];

const DESCRIPTION = openApiOf(ROUTES, VERSION);
