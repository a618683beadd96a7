/** What the PDF maker uses of libraries that ship no types. */
declare module 'svg-to-pdfkit' {
  interface Options {
    readonly width: number;
    readonly height: number;
    readonly assumePt: boolean;
    readonly useCSS: boolean;
    readonly preserveAspectRatio: string;
    readonly fontCallback: (family: string, bold: boolean, italic: boolean) => string;
    readonly warningCallback: (message: string) => void;
  }
  export default function svgToPdf(
    document: PDFKit.PDFDocument,
    svg: string,
    x: number,
    y: number,
    options: Options,
  ): void;
}
declare module 'fontkit' {
  export interface Font {
    readonly characterSet: readonly number[];
    readonly unitsPerEm: number;
    layout(text: string): { readonly advanceWidth: number };
    glyphForCodePoint(code: number): { readonly path: { toSVG(): string } };
  }
  export function create(bytes: Uint8Array): Font;
}
