package idlewright.reference.mechanical;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/** Manifold vacuum at a hot idle, and what the needle does. Vacuum in kPa below ambient. */
public final class Vacuum {

    /** Conventional inch of mercury, kPa. Source: conversion tables. */
    private static final double IN_HG = 3.386389;

    private Vacuum() {}

    /**
     * The band of a healthy idle: 17 to 22 inHg at sea level and about 1 inHg less for every 1,000 ft (304.8 m). Common
     * practice, no source; the loss is what the standard atmosphere loses.
     *
     * @param altitudeM -500 to 5,000 m
     */
    public static Band idleBandKpa(double altitudeM) {
        double loss = within("altitude", altitudeM, -500, 5000, "m") / 304.8;
        return new Band((17 - loss) * IN_HG, (22 - loss) * IN_HG);
    }

    /**
     * Judges the vacuum of a hot idle.
     *
     * @param vacuumKpa below ambient, 0 to 105 kPa
     * @param altitudeM -500 to 5,000 m
     * @param uncertaintyKpa expanded, 0 to 20 kPa
     */
    public static Judged judgeIdle(double vacuumKpa, double altitudeM, double uncertaintyKpa) {
        within("vacuum", vacuumKpa, 0, 105, "kPa");
        within("uncertainty", uncertaintyKpa, 0, 20, "kPa");
        Band band = idleBandKpa(altitudeM);
        Verdict verdict = band.hold(vacuumKpa, uncertaintyKpa);
        String sums = String.format(
                Locale.ROOT,
                "%.0f kPa (%.1f inHg) of vacuum; at %.0f m a healthy idle holds %.0f to %.0f kPa (%.1f to %.1f inHg)",
                vacuumKpa,
                vacuumKpa / IN_HG,
                altitudeM,
                band.low(),
                band.high(),
                band.low() / IN_HG,
                band.high() / IN_HG);
        return Judged.practice(
                verdict,
                sums
                        + switch (verdict) {
                            case OUTSIDE ->
                                vacuumKpa < band.low()
                                        ? ". Low: air leak, late timing, or a tired engine; wide cams also read low."
                                        : ". High: check the gauge, and the altitude.";
                            case TOO_CLOSE -> ", and the gauge cannot tell.";
                            default -> ".";
                        });
    }

    /** What the needle does, and what it points to. Common practice; TM 9-8000 uses the same signs. */
    public enum Needle {
        STEADY("steady", "no sign of a fault"),
        STEADY_LOW("steady but low", "air leak or late timing"),
        DROPS_REGULARLY("drops at regular beats", "a valve that leaks or sticks, or one cylinder that misfires"),
        FALLS_AT_2500("falls slowly at 2,500 rpm", "exhaust restricted"),
        FLUCTUATES_WITH_THROTTLE("swings more the more the throttle opens", "valve springs"),
        DRIFTS("drifts slowly to and fro", "mixture");

        private final String words;
        private final String pointsTo;

        Needle(String words, String pointsTo) {
            this.words = words;
            this.pointsTo = pointsTo;
        }

        public String words() {
            return words;
        }

        public String pointsTo() {
            return pointsTo;
        }
    }
}
