package idlewright.billing.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.billing.rules.Standing.Issue;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SplittableRandom;
import java.util.function.Function;
import org.junit.jupiter.api.Test;

class StandingTest {

    private static final List<Line> SENSOR = List.of(line("Sensor", "190.00"));
    private static final List<Line> DEARER = List.of(line("Sensor", "210.00"));

    @Test
    void carriesAnAnswerOnToAnUnchangedGroupAndAsksAboutAChangedOne() {
        var first = new Issue(Map.of(1, SENSOR, 2, SENSOR), Map.of(1, true, 2, false));
        assertThat(Standing.of(List.of(first))).containsExactly(Map.of(1, Standing.AGREED, 2, Standing.DECLINED));
        var same = new Issue(Map.of(1, SENSOR, 2, SENSOR), Map.of());
        var changed = new Issue(Map.of(1, DEARER, 2, DEARER, 3, SENSOR), Map.of());
        assertThat(Standing.of(List.of(first, same, same)).get(2))
                .isEqualTo(Map.of(1, Standing.AGREED_BEFORE, 2, Standing.DECLINED_BEFORE));
        assertThat(Standing.of(List.of(first, changed)).get(1))
                .isEqualTo(Map.of(1, Standing.OPEN, 2, Standing.OPEN, 3, Standing.OPEN));
        assertThat(Standing.AGREED_BEFORE.asked()).isFalse();
        assertThat(Standing.DECLINED_BEFORE.asked()).isTrue();
    }

    @Test
    void saysWhatChangedInWords() {
        assertThat(Change.between(
                        List.of(line("Sensor", "190.00"), line("Hose", "12.00")),
                        List.of(line("Sensor", "210.00"), line("Seal", "4.00"))))
                .extracting(Change::words)
                .containsExactly(
                        "Changed: Part: Sensor, 1, 210.00, was 1, 190.00",
                        "Added: Part: Seal, 1, 4.00",
                        "Left out: Part: Hose, 1, 12.00");
    }

    @Test
    void makesTheNewerOfTheFormerWhenEveryChangeIsCarriedOut() {
        long seed = 20261127;
        var random = new SplittableRandom(seed);
        for (int i = 0; i < 3_000; i++) {
            List<Line> before = lines(random);
            List<Line> after = lines(random);
            var carried = new ArrayList<Line>(before);
            var changes = Change.between(before, after);
            changes.stream().map(Change::before).filter(Objects::nonNull).forEach(carried::remove);
            changes.stream().map(Change::after).filter(Objects::nonNull).forEach(carried::add);
            assertThat(sorted(carried)).as("seed %d, round %d", seed, i).isEqualTo(sorted(after));
            assertThat(Change.between(after, after)).isEmpty();
        }
    }

    private static List<Line> lines(SplittableRandom random) {
        var lines = new ArrayList<Line>();
        for (int n = random.nextInt(0, 6); n > 0; n--) {
            lines.add(line("Part " + random.nextInt(3), random.nextInt(1, 4) + ".00"));
        }
        return lines;
    }

    private static List<Line> sorted(List<Line> lines) {
        Function<Line, String> key = line -> line.what() + line.each().text();
        return lines.stream().sorted(Comparator.comparing(key)).toList();
    }

    private static Line line(String what, String each) {
        return new Line(1, LineKind.PART, what, BigDecimal.ONE, Money.of(each, "USD"), null);
    }
}
