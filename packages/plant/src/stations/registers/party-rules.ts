import { refuse } from '../../journal/refusal.ts';
import { defineCommand, draft } from '../../journal/station.ts';
import { purchaserBody, supplierBody } from './bodies.ts';
import { purchasers, suppliers } from './books.ts';
import {
  PurchaserApproved,
  PurchaserChanged,
  SupplierChanged,
  SupplierRegistered,
} from './entries.ts';
import { registersRefusals } from './refusals.ts';

const station = 'registers';

export const registerSupplier = defineCommand({
  command: 'register-supplier',
  station,
  title: 'Register a supplier',
  input: supplierBody,
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => ({ present: await books.get(suppliers, input.supplier) }),
  decide: (input, { present }) => {
    if (!present) return { entries: [draft(SupplierRegistered, input)] };
    const refusal = refuse(registersRefusals, 'SupplierAlreadyRegistered', {
      message: `${input.supplier} is the id of ${present.name}, entry ${present.entry}.`,
      field: 'supplier',
      figures: { supplier: input.supplier, name: present.name, entry: present.entry },
    });
    return { refusals: [refusal] };
  },
});

export const changeSupplier = defineCommand({
  command: 'change-supplier',
  station,
  title: 'Change a supplier',
  input: supplierBody,
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => ({ present: await books.get(suppliers, input.supplier) }),
  decide: (input, { present }) => {
    if (present) return { entries: [draft(SupplierChanged, input)] };
    const refusal = refuse(registersRefusals, 'SupplierUnknown', {
      message: `${input.supplier} is not in the register of suppliers.`,
      field: 'supplier',
      figures: { supplier: input.supplier },
    });
    return { refusals: [refusal] };
  },
});

export const approvePurchaser = defineCommand({
  command: 'approve-purchaser',
  station,
  title: 'Approve a purchaser',
  input: purchaserBody,
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => ({ present: await books.get(purchasers, input.purchaser) }),
  decide: (input, { present }) => {
    if (!present) return { entries: [draft(PurchaserApproved, input)] };
    const refusal = refuse(registersRefusals, 'PurchaserAlreadyApproved', {
      message: `${input.purchaser} is the id of ${present.name}, entry ${present.entry}.`,
      field: 'purchaser',
      figures: { purchaser: input.purchaser, name: present.name, entry: present.entry },
    });
    return { refusals: [refusal] };
  },
});

export const changePurchaser = defineCommand({
  command: 'change-purchaser',
  station,
  title: 'Change a purchaser',
  input: purchaserBody,
  roles: ['chief assayer'],
  signature: 'author',
  facts: async (books, input) => ({ present: await books.get(purchasers, input.purchaser) }),
  decide: (input, { present }) => {
    if (present) return { entries: [draft(PurchaserChanged, input)] };
    const refusal = refuse(registersRefusals, 'PurchaserUnknown', {
      message: `${input.purchaser} is not in the register of purchasers.`,
      field: 'purchaser',
      figures: { purchaser: input.purchaser },
    });
    return { refusals: [refusal] };
  },
});
