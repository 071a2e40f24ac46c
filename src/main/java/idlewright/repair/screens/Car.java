package idlewright.repair.screens;

/** Which car the bay's bar names. */
record Car(int ticket, String words) {}
