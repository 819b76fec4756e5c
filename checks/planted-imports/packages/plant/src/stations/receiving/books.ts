export const books = 1;
