package idlewright.warranty.rules;

import java.math.BigDecimal;
import java.util.List;

/**
 * What the law of the United States asks of a vehicle's maker for emission parts. The figures are from memory: the copy of the
 * rule that was at hand broke off before them. Whoever quotes one looks it up first.
 */
public final class Emissions {

    /** One term: what it covers, how long, and where that is written. */
    public record Term(String what, Promise promise, String source) {}

    private static final String FROM_MEMORY = "40 CFR 85.2103; figures from memory, check";

    private Emissions() {}

    /**
     * The terms for a model year, counted from the day the vehicle first went into use and from an odometer of 0.
     *
     * @param modelYear of a light vehicle sold in the United States
     */
    public static List<Term> of(int modelYear) {
        if (modelYear >= 1995) {
            return List.of(
                    new Term(
                            "Catalytic converter, electronic emission control unit, onboard diagnostic device",
                            new Promise(96, new BigDecimal("80000"), "mi"),
                            FROM_MEMORY),
                    new Term("Other emission parts", new Promise(24, new BigDecimal("24000"), "mi"), FROM_MEMORY));
        }
        return List.of(
                new Term(
                        "Emission parts, defects",
                        new Promise(60, new BigDecimal("50000"), "mi"),
                        "GAO report B-236148; check"),
                new Term(
                        "Emission parts, failed emission test",
                        new Promise(24, new BigDecimal("24000"), "mi"),
                        "GAO report B-236148; check"));
    }
}
