export const putUp = 1;
