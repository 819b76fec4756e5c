export const receiving = 1;
