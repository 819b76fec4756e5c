import type { z } from 'zod';
import { defineKind } from '../../journal/station.ts';
import { calibrationBody, dieBody, plantFounded, purchaserBody, supplierBody } from './bodies.ts';
import { instrumentSchema } from './instruments.ts';
import { enrolledPersonSchema } from './people.ts';
import { pieceStandardSchema } from './piece-standard.ts';
import {
  applyCalibration,
  applyDie,
  applyInstrument,
  applyPerson,
  applyPieceStandard,
  applyPlant,
  applyPurchaser,
  applySupplier,
} from './read-model.ts';

const station = 'registers';

export const PlantFounded = defineKind<z.infer<typeof plantFounded>>({
  kind: 'PlantFounded',
  version: 1,
  station,
  meaning:
    'The plant opens its journal under a name and a time zone. It happens once, before everything else.',
  body: plantFounded,
  postings: 'moves nothing',
  things: () => [],
  apply: applyPlant,
});

export const PersonEnrolled = defineKind<z.infer<typeof enrolledPersonSchema>>({
  kind: 'PersonEnrolled',
  version: 1,
  station,
  meaning:
    'The chief assayer takes a person into the plant, with roles and with the methods mastered. It gives nobody a password.',
  body: enrolledPersonSchema,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'person', id: body.person }],
  apply: applyPerson,
});

export const PersonChanged = defineKind<z.infer<typeof enrolledPersonSchema>>({
  kind: 'PersonChanged',
  version: 1,
  station,
  meaning:
    'The chief assayer changes what a person is in the plant, or notes that he has left. What he did before stays his.',
  body: enrolledPersonSchema,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'person', id: body.person }],
  apply: applyPerson,
});

export const PieceStandardRegistered = defineKind<z.infer<typeof pieceStandardSchema>>({
  kind: 'PieceStandardRegistered',
  version: 1,
  station,
  meaning:
    'The chief assayer states what a kind of piece must be. Its figures are never changed; a changed kind of piece gets a new id.',
  body: pieceStandardSchema,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'piece-standard', id: body.pieceStandard }],
  apply: applyPieceStandard,
});

export const SupplierRegistered = defineKind<z.infer<typeof supplierBody>>({
  kind: 'SupplierRegistered',
  version: 1,
  station,
  meaning:
    'The chief assayer approves a supplier of blanks until a day. It says nothing of any melt.',
  body: supplierBody,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'supplier', id: body.supplier }],
  apply: applySupplier,
});

export const SupplierChanged = defineKind<z.infer<typeof supplierBody>>({
  kind: 'SupplierChanged',
  version: 1,
  station,
  meaning:
    'The chief assayer renews, shortens or ends the approval of a supplier, or changes its name. Earlier deliveries stay as they were.',
  body: supplierBody,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'supplier', id: body.supplier }],
  apply: applySupplier,
});

export const PurchaserApproved = defineKind<z.infer<typeof purchaserBody>>({
  kind: 'PurchaserApproved',
  version: 1,
  station,
  meaning: 'The chief assayer approves a purchaser until a day. It sends nothing.',
  body: purchaserBody,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'purchaser', id: body.purchaser }],
  apply: applyPurchaser,
});

export const PurchaserChanged = defineKind<z.infer<typeof purchaserBody>>({
  kind: 'PurchaserChanged',
  version: 1,
  station,
  meaning:
    'The chief assayer renews, shortens or ends the approval of a purchaser, or changes its name. Earlier dispatches stay as they were.',
  body: purchaserBody,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'purchaser', id: body.purchaser }],
  apply: applyPurchaser,
});

export const InstrumentRegistered = defineKind<z.infer<typeof instrumentSchema>>({
  kind: 'InstrumentRegistered',
  version: 1,
  station,
  meaning:
    'The chief assayer takes an instrument into use, with its place and its calibration. It vouches for no single reading.',
  body: instrumentSchema,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'instrument', id: body.instrument }],
  apply: applyInstrument,
});

export const CalibrationRecorded = defineKind<z.infer<typeof calibrationBody>>({
  kind: 'CalibrationRecorded',
  version: 1,
  station,
  meaning:
    'An instrument was calibrated or checked, with the document that says so and the day until which its readings count. Earlier readings stay as they were.',
  body: calibrationBody,
  postings: 'moves nothing',
  things: (body) => [{ thing: 'instrument', id: body.instrument }],
  apply: applyCalibration,
});

export const DieReceived = defineKind<z.infer<typeof dieBody>>({
  kind: 'DieReceived',
  version: 1,
  station,
  meaning:
    'The die keeper and a second person receive a die or collar, like metal. It is not yet in any press.',
  body: dieBody,
  postings: 'moves nothing',
  things: (body) => [
    { thing: 'die', id: body.die },
    { thing: 'piece-standard', id: body.pieceStandard },
  ],
  apply: applyDie,
});

export const registersKinds = [
  PlantFounded,
  PersonEnrolled,
  PersonChanged,
  PieceStandardRegistered,
  SupplierRegistered,
  SupplierChanged,
  PurchaserApproved,
  PurchaserChanged,
  InstrumentRegistered,
  CalibrationRecorded,
  DieReceived,
] as const;
