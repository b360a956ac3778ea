type Reader = (text: string) => { readonly v: number | boolean; readonly z?: string } | null;
export const parseDate: Reader;
export const parseTime: Reader;
export const parseNumber: Reader;
