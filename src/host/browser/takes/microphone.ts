/** The microphone: asked for only when it is wanted, with all that is made for voices on the telephone switched off. */
import { fail, ok, type Result } from '../../../units/index.ts';

export interface Microphone {
  readonly id: string;
  /** As the device calls it. */
  readonly name: string;
}

export interface OpenMicrophone extends Microphone {
  readonly stream: MediaStream;
  readonly track: MediaStreamTrack;
  /** What the browser did not switch off. */
  readonly unasked: readonly string[];
}

/** Processing for voices (Media Capture and Streams, W3C): it pumps, gates and takes the click for an echo. */
const forVoices = ['echoCancellation', 'noiseSuppression', 'autoGainControl'] as const;

const refused = (error: unknown): Result<never> => {
  switch (error instanceof Error ? error.name : '') {
    case 'NotAllowedError':
    case 'SecurityError':
      return fail(
        'microphone-refused',
        'The browser was told not to let this page hear. Allow the microphone for it, beside its address, and try again.',
      );
    case 'NotFoundError':
    case 'OverconstrainedError':
      return fail(
        'microphone-missing',
        'No microphone is there. Plug one in, or choose another, and try again.',
      );
    case 'NotReadableError':
    case 'AbortError':
      return fail(
        'microphone-busy',
        'The microphone is there and gives nothing: another program may have taken it. Close that one and try again.',
      );
    default:
      return fail(
        'microphone-unknown',
        'This browser gives no microphone to this page. It needs to be a current one, and the page has to come from this machine or over https.',
      );
  }
};

/** Those that are there. Their names are known only once one was allowed. */
export const microphones = async (): Promise<readonly Microphone[]> => {
  try {
    const all = await navigator.mediaDevices.enumerateDevices();
    return all
      .filter(({ kind, deviceId }) => kind === 'audioinput' && deviceId !== '')
      .map(({ deviceId, label }) => ({ id: deviceId, name: label }));
  } catch {
    return [];
  }
};

/** One channel of the microphone of this id; of the device's usual one where the id is empty. Errors: `microphone-…`. */
export const openMicrophone = async (id: string): Promise<Result<OpenMicrophone>> => {
  try {
    const stream = await navigator.mediaDevices.getUserMedia({
      audio: {
        ...(id === '' ? {} : { deviceId: { exact: id } }),
        channelCount: { ideal: 1 },
        echoCancellation: false,
        noiseSuppression: false,
        autoGainControl: false,
      },
    });
    const [track] = stream.getAudioTracks();
    if (track === undefined) return refused(new DOMException('No track.', 'NotFoundError'));
    const settings = track.getSettings();
    const unasked = forVoices.filter((name) => settings[name] === true);
    return ok({ stream, track, unasked, id: settings.deviceId ?? id, name: track.label });
  } catch (error) {
    return refused(error);
  }
};
