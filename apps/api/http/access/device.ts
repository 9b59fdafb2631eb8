/** A logger that signs in with a key of its own. It is nobody: what it sends is told of under its own name. */
export interface Device {
  readonly id: string;
  readonly siteId: string;
  /** As it is painted on it: "L-2". */
  readonly code: string;
}

/** By which a key is told from the token of a session, here and by whoever finds one lying about. */
export const DEVICE_KEY_PREFIX = 'hwkey_';

export const isDeviceKey = (token: string): boolean => token.startsWith(DEVICE_KEY_PREFIX);

/** Knows whose key it is. The loggers area provides it; http only asks. */
export abstract class DeviceAuthenticator {
  /** Null when the key is unknown or revoked. */
  abstract deviceOf(key: string): Promise<Device | null>;
}
