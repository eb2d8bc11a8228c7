import { expose } from 'comlink';
import { createViews } from './views.ts';

expose(createViews());
