package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** Holds a value against a limit, with a guard band as wide as the expanded uncertainty (JCGM 106). */
public final class Judge {
    private static final double ROUNDING = 1e-9;

    private Judge() {}

    /** Judges a value read with an instrument of the given accuracy. */
    public static Judged judge(double value, Unit unit, Accuracy accuracy, @Nullable Limit limit) {
        return judge(value, unit, accuracy.expanded(value), limit);
    }

    /**
     * Judges a value with its expanded uncertainty, both in {@code unit}; the limit may be in another unit of the same
     * dimension.
     */
    public static Judged judge(double value, Unit unit, double uncertainty, @Nullable Limit limit) {
        if (limit == null) return Judged.notJudged("Not judged: no limit is known for this reading yet.");
        double low = Math.min(
                convert(value - uncertainty, unit, limit.unit()), convert(value + uncertainty, unit, limit.unit()));
        double high = Math.max(
                convert(value - uncertainty, unit, limit.unit()), convert(value + uncertainty, unit, limit.unit()));
        double slack = ROUNDING * Math.max(1, Math.max(Math.abs(low), Math.abs(high)));
        Double least = limit.low();
        Double most = limit.high();

        if (least != null && high < least - slack) return outside(value, unit, uncertainty, limit, Side.LOW);
        if (most != null && low > most + slack) return outside(value, unit, uncertainty, limit, Side.HIGH);
        if (least != null && low < least - slack) return tooClose(value, unit, uncertainty, limit, Side.LOW);
        if (most != null && high > most + slack) return tooClose(value, unit, uncertainty, limit, Side.HIGH);
        return new Judged(
                Verdict.WITHIN,
                Side.NONE,
                uncertainty,
                limit,
                Figures.of(value, unit) + " is within " + (limit.oneSided() ? "the limit, " : "") + limit.wordsIn(unit)
                        + " (" + limit.groundWords() + ").");
    }

    private static Judged outside(double value, Unit unit, double uncertainty, Limit limit, Side side) {
        return new Judged(
                Verdict.OUTSIDE,
                side,
                uncertainty,
                limit,
                Figures.of(value, unit) + " is outside, " + side.words() + ": good is " + limit.wordsIn(unit) + " ("
                        + limit.groundWords() + ").");
    }

    private static Judged tooClose(double value, Unit unit, double uncertainty, Limit limit, Side side) {
        double near = Objects.requireNonNull(side == Side.LOW ? limit.low() : limit.high());
        return new Judged(
                Verdict.TOO_CLOSE,
                side,
                uncertainty,
                limit,
                "The meter reads " + Figures.of(value, unit) + " give or take " + Figures.unsure(uncertainty, unit)
                        + ", and the limit "
                        + Figures.of(
                                unit == limit.unit() ? near : Figures.converted(convert(near, limit.unit(), unit)),
                                unit)
                        + " lies inside that: too close to call. Repeat it on a finer range or with a finer meter, or take a second kind of test ("
                        + limit.groundWords() + ").");
    }

    static double convert(double value, Unit from, Unit to) {
        if (from == to) return value;
        if (from.dimension() != to.dimension()) {
            throw new Refusal("A value in " + from.symbol() + " cannot be held against " + to.symbol() + ".");
        }
        return to.fromSi(from.toSi(value));
    }
}
