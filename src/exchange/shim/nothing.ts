/** Stands in for modules that have no place in a page: files, streams, encryption. */
export {};
