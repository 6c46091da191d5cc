import { signal } from '@preact/signals';
import { commonFilterTable, type FilterTable } from '../../../daylight/filters/filter-table.js';

/** The filters that are worked with: the common ones, or those of a file of the printer's own. */
export const filterTable = signal<FilterTable>(commonFilterTable);
