export { books } from '../receiving/books.ts';
