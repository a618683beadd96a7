/** What a PDF file says of itself in its catalog (ISO 32000-1, 7.5.5 and 7.7.2), read without a PDF library. */
/** The natural language of a PDF's texts (14.9.2.2); null where it names none. */
export const pdfLanguage = (pdf: Uint8Array): string | null => {
  const text = Buffer.from(pdf).toString('latin1');
  const root = /trailer[\s\S]*?\/Root (\d+) 0 R/.exec(text)?.[1] ?? 'none';
  const catalog = new RegExp(`(?:^|\\n)${root} 0 obj([\\s\\S]*?)endobj`).exec(text)?.[1] ?? '';
  if (!catalog.includes('/Type /Catalog')) throw new Error('The PDF has no catalog that can be read');
  return /\/Lang \(([^)]*)\)/.exec(catalog)?.[1] ?? null;
};
