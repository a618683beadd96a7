/**
 * What writing and reading WAV share. Sources: "Multimedia Programming Interface and Data Specifications 1.0", IBM and
 * Microsoft 1991 (RIFF, WAVE, format tag 1); Microsoft, "WAVEFORMATEXTENSIBLE structure (mmreg.h)" and "Multiple
 * Channel Audio Data and WAVE Files" (format tag 0xFFFE, sub-format identifiers, the fact chunk for what is not PCM).
 */
export const tag = { pcm: 1, float: 3, extensible: 0xfffe } as const;

/**
 * The last 14 bytes of KSDATAFORMAT_SUBTYPE_PCM and of KSDATAFORMAT_SUBTYPE_IEEE_FLOAT; in front of them stands the
 * format tag in two bytes. 0000xxxx-0000-0010-8000-00aa00389b71, the first three fields with the low byte first.
 */
export const subFormatTail: readonly number[] = [
  0x00, 0x00, 0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xaa, 0x00, 0x38, 0x9b, 0x71,
];

/** The largest value that a size of 32 bits can hold. */
export const largestSize = 0xffff_ffff;
