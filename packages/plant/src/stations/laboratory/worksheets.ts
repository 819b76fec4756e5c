import { recordTitration, titrationKinds, titrationRefusals } from './titration/index.ts';

/** The worksheets that stand in folders of their own, as the station takes them. */
export const worksheetKinds = [...titrationKinds] as const;
export const worksheetCommands = [recordTitration] as const;
export const worksheetRefusals = { ...titrationRefusals };
