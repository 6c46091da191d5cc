/** `treadle/pages`: pages to print and to keep with the negative: the printing map, and a night's work from the log. */

export type { Backdrop } from './map/figure.js';
export { type MapOptions, printingMapHtml, printingMapSvg } from './map/printing-map.js';
export { backdropOf } from './map/scan-backdrop.js';
export { type NightPageOptions, nightPage } from './night/night-page.js';
export {
  type LoggedLight,
  type NightRow,
  type NightTotals,
  nightRows,
  nightTotals,
} from './night/night-rows.js';
