package idlewright.bench.rules;

import idlewright.reference.units.Dimension;
import idlewright.reference.units.Quantity;
import idlewright.reference.units.Unit;
import java.util.List;
import java.util.Optional;

/** What becomes of a number that was just typed at a point. */
public sealed interface Entry {
    String PROBES_REVERSED = "The probes were reversed: the sign was turned round, the magnitude stands.";

    /**
     * Good to keep.
     *
     * @param value to be kept, with its sign put right
     * @param note what to tell the technician, or empty
     */
    record Accepted(double value, Unit unit, String note) implements Entry {}

    /** Asked once; both answers are fine. */
    record Asked(double value, Unit unit, String question) implements Entry {}

    /** Impossible; the words name the range. */
    record Refused(String words) implements Entry {}

    /**
     * Which of the meanings of what was typed is meant at this point: of two the one that is possible here; where both are,
     * thousands for what is counted, else nothing, and somebody has to say.
     *
     * @param meanings the usual one first, see {@link idlewright.reference.units.Typed#meanings}
     */
    static Optional<Quantity> meant(Point point, List<Quantity> meanings) {
        List<Quantity> here =
                meanings.stream().filter(each -> possible(point, each)).toList();
        return here.size() < 2 || here.get(0).unit().counts()
                ? Optional.of(here.isEmpty() ? meanings.get(0) : here.get(0))
                : Optional.empty();
    }

    private static boolean possible(Point point, Quantity quantity) {
        Range possible = point.possible();
        Unit unit = quantity.unit();
        if (possible == null || unit.dimension() != point.unit().dimension()) return true;
        double value = quantity.value().doubleValue();
        return possible.holds(Judge.convert(value, unit, point.unit())) || probesReversed(point, value, unit);
    }

    /** Both meanings with the usual one first, where one of them is usual here. */
    static List<Quantity> likelierFirst(Point point, List<Quantity> meanings) {
        boolean swap = meanings.size() == 2 && !usual(point, meanings.get(0)) && usual(point, meanings.get(1));
        return swap ? List.of(meanings.get(1), meanings.get(0)) : meanings;
    }

    private static boolean usual(Point point, Quantity quantity) {
        Range usual = point.usual();
        return usual != null
                && quantity.unit().dimension() == point.unit().dimension()
                && usual.holds(Judge.convert(quantity.value().doubleValue(), quantity.unit(), point.unit()));
    }

    /** Asked where a mark before three digits can be read both ways. */
    static String whichIsMeant(String typed, List<Quantity> meanings) {
        Quantity first = meanings.get(0);
        Quantity other = meanings.get(1);
        return typed.strip() + " is read as " + plainly(first) + ". If you mean " + plainly(other) + ", type "
                + other.value().stripTrailingZeros().toPlainString() + ". Keep " + plainly(first) + "?";
    }

    /** The same where there is nothing to confirm. */
    static String eitherWay(String typed, List<Quantity> meanings) {
        return typed.strip() + " can be read two ways: type "
                + meanings.get(0).value().stripTrailingZeros().toPlainString() + " or "
                + meanings.get(1).value().toPlainString() + ".";
    }

    private static String plainly(Quantity quantity) {
        return (quantity.value().stripTrailingZeros().toPlainString() + " "
                        + quantity.unit().symbol())
                .strip();
    }

    /** Looks at a number before it is kept. */
    static Entry of(Point point, double typed, Unit unit) {
        if (point.kind() != Point.Kind.NUMBER) return new Refused(point.label() + " is not a number.");
        if (!Double.isFinite(typed)) return new Refused(point.label() + ": type a plain number.");
        if (unit.dimension() != point.unit().dimension()) {
            return new Refused(point.label() + " is read in "
                    + String.join(
                            " or ", point.units().stream().map(Unit::symbol).toList()) + ", not in "
                    + unit.symbol() + ".");
        }
        boolean reversed = probesReversed(point, typed, unit);
        double value = reversed ? -typed : typed;
        Range possible = point.possible();
        double inFirst = Judge.convert(value, unit, point.unit());
        if (possible != null && !possible.holds(inFirst)) {
            return new Refused(Figures.of(typed, unit) + " cannot be: "
                    + point.label().toLowerCase(java.util.Locale.ROOT) + " lies between "
                    + words(possible, " and ", point.unit(), unit) + ". Check the figure and the unit.");
        }
        Range usual = point.usual();
        if (usual != null && !usual.holds(inFirst)) {
            double tenth = Judge.convert(value / 10, unit, point.unit());
            double tenfold = Judge.convert(value * 10, unit, point.unit());
            boolean tooMuch = usual.holds(tenth);
            if (tooMuch || usual.holds(tenfold)) {
                return new Asked(
                        value,
                        unit,
                        Figures.of(value, unit) + (tooMuch ? " is about ten times" : " is about a tenth of")
                                + " the usual " + words(usual, " to ", point.unit(), unit) + ". Keep it?");
            }
        }
        return new Accepted(value, unit, reversed ? PROBES_REVERSED : "");
    }

    /** A voltage below zero where only one above zero can be, and whose magnitude would be possible. */
    static boolean probesReversed(Point point, double value, Unit unit) {
        Range possible = point.possible();
        return value < 0
                && possible != null
                && possible.low() >= 0
                && unit.dimension() == Dimension.VOLTAGE
                && possible.holds(Judge.convert(-value, unit, point.unit()));
    }

    private static String words(Range range, String joint, Unit kept, Unit shown) {
        double a = Judge.convert(range.low(), kept, shown);
        double b = Judge.convert(range.high(), kept, shown);
        return Figures.plain(Math.min(a, b)) + joint + Figures.of(Math.max(a, b), shown);
    }
}
