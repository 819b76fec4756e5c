export const clock = 1;
