/** What the PDF maker uses of libraries, on Node and in a browser alike; their own types, where there are any, want Node. */
declare module 'pdfkit' {
  interface Page {
    /** PDF units. */
    readonly size: readonly [number, number];
    readonly margin: number;
  }
  interface Options extends Page {
    readonly autoFirstPage: boolean;
    readonly font: string;
    readonly info: {
      readonly Title: string;
      readonly Creator: string;
      readonly Producer: string;
      readonly CreationDate: Date;
    };
    readonly lang: string;
    readonly displayTitle: boolean;
  }
  /** An object of the file, written when it is finalized. */
  export interface Reference {
    compress: boolean;
    buffer: readonly Uint8Array[];
    finalize: () => void;
  }
  export default class PDFDocument {
    constructor(options: Options);
    on(event: 'data', heard: (chunk: Uint8Array) => void): this;
    on(event: 'end', heard: () => void): this;
    on(event: 'error', heard: (error: Error) => void): this;
    registerFont(name: string, bytes: Uint8Array): this;
    addPage(page: Page): this;
    ref: (data?: object) => Reference;
    end(): void;
  }
}
declare module 'svg-to-pdfkit' {
  import type PDFDocument from 'pdfkit';
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
    document: PDFDocument,
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
