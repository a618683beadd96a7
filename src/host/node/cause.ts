/** Errors of the operating system in words. Names of the errors: POSIX.1-2017, <errno.h>. */

const words: Readonly<Record<string, string>> = {
  EACCES: 'you are not allowed to',
  EPERM: 'you are not allowed to',
  EROFS: 'the disk can only be read',
  ENOSPC: 'the disk is full',
  EDQUOT: 'your share of the disk is used up',
  EFBIG: 'the file would become larger than is allowed here',
  ENOTDIR: 'a part of the path is a file, not a folder',
  EEXIST: 'there is a file of that name, where a folder is needed',
  EISDIR: 'there is a folder of that name, where a file is needed',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'its links lead in a circle',
  EMFILE: 'too many files are open',
  ENFILE: 'too many files are open',
  EIO: 'the disk does not answer',
  EINVAL: 'the name is not possible',
  ENOENT: 'a folder on the way is missing',
  ERR_INVALID_ARG_VALUE: 'the name is not possible',
};

/** The system's short name of an error: "EACCES"; empty where it has none. */
export const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';

/** The cause of a failed file operation, to stand after a colon, without a full stop. */
export const causeOf = (error: unknown): string => {
  const code = codeOf(error);
  return words[code] ?? (code === '' ? String(error) : `the system says ${code}`);
};

/** Whether an error comes from the operating system, and not from a defect in what makes the bytes. */
export const isSystemError = (error: unknown): boolean => codeOf(error) !== '';
