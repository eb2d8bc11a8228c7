/** Volts that capacitors are rated for; common practice, no source. */
export const soldVolts: readonly number[] = [6.3, 10, 16, 25, 35, 50, 63, 100, 160, 200, 250, 350, 400, 450, 630, 1000];
