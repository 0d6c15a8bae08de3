/** From this scale on (pixels per unit of the board) everything is drawn in full size, below with less detail. */
export const DETAIL_FROM = 5;
