export { maySeeBook, seesBook } from '../../journal/sees-book.ts';
