/** The desk's ports in a browser, and the loudspeaker. */
export { browserDesk, type Desk, type MadeFile, type RemoteDesk } from './desk.ts';
export { browserPlayer, type Balance, type Material, type Player, type PlayerNews } from './player.ts';
export { pickedFile, savedFile } from './files.ts';
export { browserShelf } from './shelf.ts';
export { deviceNote, setDeviceNote } from './device.ts';
export { freshTag, setTabNote, tabNote } from './tab.ts';
export { homeWork, type HomeProgress, type HomeWork } from './home/home.ts';
export { keepOffline, type Kept } from './offline.ts';
export { fillScreen, keepAwake, leaveFullScreen } from './awake.ts';
export { microphones, type Microphone, type OpenMicrophone } from './takes/microphone.ts';
export { browserEar, type Ear, type HearableSound, type Hearing } from './hear/hear.ts';
export { browserReadings, type Readings } from './hear/kept.ts';
export type { Recorder, RecorderNews } from './takes/recorder.ts';
export { roomHere, type KeptSound, type Room, type Sounds } from './takes/sounds.ts';
