export { putUp } from '../put-up/index.ts';
