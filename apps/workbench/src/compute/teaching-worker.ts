import { expose } from 'comlink';
import { createTeaching } from './teach.ts';

expose(createTeaching());
