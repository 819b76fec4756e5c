import { recordPortionResult } from './report-result.ts';
import { settleExchange } from './settle-exchange.ts';

export const reportedCommands = [recordPortionResult, settleExchange] as const;
