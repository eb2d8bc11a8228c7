import { createContext, type Context } from 'preact';
import { useContext } from 'preact/hooks';
import type { Session } from '../store/session.ts';

export const SessionContext: Context<Session | null> = createContext<Session | null>(null);

export function useSession(): Session {
  const session = useContext(SessionContext);
  if (session === null) throw new Error('a view stands outside the session');
  return session;
}
