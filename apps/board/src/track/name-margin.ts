/** Room for names above and below a drawing that is shown whole, pixels. */
export const NAME_MARGIN = 14;
