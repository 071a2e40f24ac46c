package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Ground;
import org.jspecify.annotations.Nullable;

/**
 * The band a reading is held against, and why it is believed.
 *
 * @param low lowest good value, or null where there is none
 * @param high highest good value, or null where there is none
 * @param citation where it is printed; required for {@link Ground#PUBLISHED}
 */
public record Limit(@Nullable Double low, @Nullable Double high, Unit unit, Ground ground, String citation) {
    public static final String NO_SOURCE = "common practice, no source";

    public Limit {
        if (low == null && high == null) throw new Refusal("A limit needs a lowest or a highest good value.");
        if (low != null && high != null && low > high) {
            throw new Refusal("The lowest good value " + Figures.plain(low) + " lies above the highest "
                    + Figures.plain(high) + ".");
        }
        if (ground == Ground.PUBLISHED && citation.isBlank()) {
            throw new Refusal("A published limit needs its citation: document, page and edition.");
        }
    }

    /** "11.8 to 12.2 V", "at most 0.2 V", "at least 9.6 V". */
    public String words() {
        if (low == null) return "at most " + Figures.of(java.util.Objects.requireNonNull(high), unit);
        if (high == null) return "at least " + Figures.of(low, unit);
        return Figures.alike(low, high) + (unit.symbol().isEmpty() ? "" : " " + unit.symbol());
    }

    boolean oneSided() {
        return low == null || high == null;
    }

    /** The same in the unit somebody reads in, its ends with three figures where they were converted. */
    public Limit in(Unit shown) {
        if (shown == unit || shown.dimension() != unit.dimension()) return this;
        Double a = low == null ? null : (Double) Figures.converted(Judge.convert(low, unit, shown));
        Double b = high == null ? null : (Double) Figures.converted(Judge.convert(high, unit, shown));
        boolean turned = a != null && b != null && a > b;
        return new Limit(turned ? b : a, turned ? a : b, shown, ground, citation);
    }

    public String wordsIn(Unit shown) {
        return in(shown).words();
    }

    /** "published, shop manual page 12" or "common practice, no source". */
    public String groundWords() {
        if (citation.isBlank()) return ground.words();
        return citation.startsWith(ground.words()) ? citation : ground.words() + ", " + citation;
    }
}
