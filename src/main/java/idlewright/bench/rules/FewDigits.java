package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;

/** Where a reading is too close to call only because few digits were typed, it is not the meter that is too coarse. */
final class FewDigits {
    /** Hand-held meters and tools show about as many; asking for more would send somebody looking for what is not there. */
    private static final int FIGURES_SHOWN = 4;

    private static final int DECIMALS_SHOWN = 3;

    private FewDigits() {}

    /** A number that could have been typed finer. */
    private record Coarse(double value, Unit unit, int decimals) {
        String asTyped() {
            return with(decimals, true);
        }

        String finer() {
            return with(decimals + 1, false);
        }

        private String with(int places, boolean named) {
            String figure = BigDecimal.valueOf(value)
                    .setScale(places, RoundingMode.HALF_UP)
                    .toPlainString();
            return named ? (figure + " " + unit.symbol()).strip() : figure;
        }

        String howFar() {
            return switch (decimals) {
                case 0 -> "without decimals";
                case 1 -> "to a tenth";
                default -> "to a hundredth";
            };
        }
    }

    /** The same result, where digits are what is missing said so; {@code finer} is it as if one digit more had been typed. */
    static TestResult named(TestResult read, Readings readings, TestResult finer) {
        var points = new ArrayList<PointResult>();
        for (PointResult each : read.points()) {
            PointResult better = finer.at(each.point().key()).stream()
                    .filter(other -> other.place() == each.place())
                    .findFirst()
                    .orElse(each);
            points.add(
                    each.judged().verdict() == Verdict.TOO_CLOSE && decided(each, better)
                            ? named(each, read.procedure(), readings)
                            : each);
        }
        return new TestResult(read.procedure(), points, read.outcomes(), read.missing());
    }

    /** The digits weigh more than the meter's promise: with one more the uncertainty would be half or less, or all is told. */
    private static boolean decided(PointResult typed, PointResult finer) {
        return finer.judged().verdict() != Verdict.TOO_CLOSE
                || finer.judged().uncertainty() <= typed.judged().uncertainty() / 2;
    }

    private static PointResult named(PointResult result, Procedure procedure, Readings readings) {
        List<Coarse> coarse = List.copyOf(coarse(result, result.point(), procedure, readings));
        Limit limit = result.judged().limit();
        Unit unit = result.unit();
        if (coarse.isEmpty() || limit == null || unit == null) return result;
        Side side = result.judged().side();
        double near = Objects.requireNonNull(side == Side.LOW ? limit.low() : limit.high());
        String typed = coarse.stream().map(Coarse::asTyped).collect(Collectors.joining(" and "));
        String how = coarse.stream().map(Coarse::howFar).distinct().collect(Collectors.joining(" and "));
        String better = coarse.stream().map(Coarse::finer).collect(Collectors.joining(" and "));
        String reason = (result.point().isDerived()
                        ? result.shown() + " rests on " + typed + ", typed " + how
                        : typed + " is typed " + how)
                + ": give or take " + Figures.unsure(result.judged().uncertainty(), unit)
                + ", with the limit at "
                + Figures.of(
                        unit == limit.unit() ? near : Figures.converted(Judge.convert(near, limit.unit(), unit)), unit)
                + " too close to call. Correct it to every digit the meter shows, such as " + better
                + "; if it shows no more, use a finer range or a finer meter (" + limit.groundWords() + ").";
        return result.because(reason);
    }

    /** The numbers a result rests on that were typed with few digits. */
    private static LinkedHashSet<Coarse> coarse(
            PointResult result, Point point, Procedure procedure, Readings readings) {
        var found = new LinkedHashSet<Coarse>();
        if (point.derivation() != null) {
            for (String of : point.derivation().of()) {
                Point source = procedure.point(of).orElseThrow();
                found.addAll(coarse(result, source, procedure, readings));
            }
        } else {
            readings.at(point.key()).stream()
                    .filter(raw -> raw.place() == 0 || result.place() == 0 || raw.place() == result.place())
                    .forEach(raw -> add(found, raw));
        }
        return found;
    }

    private static void add(LinkedHashSet<Coarse> found, Readings.Raw raw) {
        if (!(raw instanceof Readings.NumberRead read) || read.accuracy().resolution() == 0) return;
        int decimals = (int) Math.round(-Math.log10(read.accuracy().resolution()));
        boolean couldBeFiner = !read.accuracy().finer().equals(read.accuracy());
        double size = Math.abs(read.value());
        int whole = size < 1 ? 0 : (int) Math.floor(Math.log10(size)) + 1;
        if (couldBeFiner
                && decimals >= 0
                && decimals < DECIMALS_SHOWN
                && whole + decimals < FIGURES_SHOWN
                && !read.unit().counts()) {
            found.add(new Coarse(read.value(), read.unit(), decimals));
        }
    }
}
