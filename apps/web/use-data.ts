import { useEffect, useState } from 'preact/hooks';

export type Loaded<T> =
  { state: 'loading' } | { state: 'ready'; value: T } | { state: 'failed'; reason: string };

/** Loads when `key` changes; a late answer to an earlier key is dropped. */
export function useData<T>(key: string, load: () => Promise<T>): Loaded<T> {
  const [loaded, setLoaded] = useState<Loaded<T>>({ state: 'loading' });
  useEffect(() => {
    let current = true;
    setLoaded({ state: 'loading' });
    load().then(
      (value) => {
        if (current) setLoaded({ state: 'ready', value });
      },
      (error: unknown) => {
        if (current)
          setLoaded({ state: 'failed', reason: error instanceof Error ? error.message : String(error) });
      },
    );
    return () => {
      current = false;
    };
  }, [key]);
  return loaded;
}
