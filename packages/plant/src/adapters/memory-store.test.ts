import { describeStoreContract } from '../ports/store.contract.ts';
import { MemoryStore } from './memory-store.ts';

describeStoreContract({ name: 'memory', make: async () => new MemoryStore('trial') });
