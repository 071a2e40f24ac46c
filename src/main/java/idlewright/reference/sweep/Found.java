package idlewright.reference.sweep;

import idlewright.reference.sweep.SweepFeature.Kind;

/** A feature by its ends in x, before it is put into words; size in units of y. */
record Found(Kind kind, double from, double to, double size) {

    boolean touches(Found other, double slack) {
        return from - slack <= other.to && other.from - slack <= to;
    }
}
