package idlewright.warranty.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import idlewright.warranty.rules.Coverage.Odometer;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Random;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayName("Coverage")
class CoverageTest {

    private static final LocalDate BEGUN = LocalDate.of(2026, 11, 9);
    private static final Promise YEAR = new Promise(12, new BigDecimal("20000"), "km");

    @ParameterizedTest(name = "on {0} at {1} km is covered: {2}")
    @CsvSource({
        "2026-11-09, 86940, true",
        "2027-11-09, 86940, true", // the last day still counts
        "2027-11-10, 86940, false",
        "2027-11-09, 106940, true", // the last kilometre still counts
        "2027-01-01, 106940, true",
        "2027-01-01, 106940.1, false",
        "2026-11-08, 86940, false" // before it began
    })
    void endsWithMonthsOrDistanceWhicheverComesFirst(LocalDate day, String distance, boolean covered) {
        assertThat(at(YEAR, km("86940"), day, km(distance)).covered()).isEqualTo(covered);
    }

    @ParameterizedTest(name = "begun on {0}, {1} months last to {2}")
    @CsvSource({"2026-08-31, 6, 2027-02-28", "2027-08-31, 6, 2028-02-29", "2024-02-29, 12, 2025-02-28"})
    void endsOnTheLastDayOfAShorterMonth(LocalDate begun, int months, LocalDate last) {
        var promise = new Promise(months, null, "km");
        assertThat(Coverage.of(promise, begun, null, last, null).covered()).isTrue();
        assertThat(Coverage.of(promise, begun, null, last.plusDays(1), null).covered())
                .isFalse();
        assertThat(Coverage.of(promise, begun, null, last, null).lastDay()).isEqualTo(last);
    }

    @ParameterizedTest(name = "{0} days and {1} km gone: {2} %")
    @CsvSource({
        "0, 0, 100",
        "182, 0, 51", // 184 of 366 days are left, both ends counted
        "182, 10000, 50", // the way is further gone
        "365, 0, 1", // the last day
        "10, 20000, 1", // the last kilometre
        "366, 0, 0"
    })
    void fallsWithTimeOrDistanceWhicheverIsFurtherGone(int days, int km, int percent) {
        var falling = new Promise(12, new BigDecimal("20000"), "km", true);
        assertThat(at(falling, km("86940"), BEGUN.plusDays(days), km("" + (86940 + km)))
                        .percent())
                .isEqualTo(percent);
    }

    @Test
    void neverGivesAShareOutsideItsBoundsNorOneThatRisesAgain() {
        var chance = new Random(24);
        for (int i = 0; i < 2000; i++) {
            int months = 1 + chance.nextInt(60);
            var distance = chance.nextBoolean() ? new BigDecimal(1 + chance.nextInt(100_000)) : null;
            String unit = chance.nextBoolean() ? "km" : "mi";
            LocalDate begun = LocalDate.of(2024, 1, 1).plusDays(chance.nextInt(1500));
            LocalDate day = begun.plusDays(chance.nextInt(2200) - 20);
            int gone = chance.nextInt(120_000);
            var falling = new Promise(months, distance, unit, true);
            var now = at(falling, begun, km("50000"), day, km("" + (50_000 + gone)));
            var full = at(new Promise(months, distance, unit), begun, km("50000"), day, km("" + (50_000 + gone)));
            assertThat(now.percent()).isBetween(0, 100);
            assertThat(now.percent() > 0).isEqualTo(now.covered());
            assertThat(now.covered()).isEqualTo(full.covered());
            assertThat(full.percent()).isEqualTo(full.covered() ? 100 : 0);
            var later = at(
                    falling,
                    begun,
                    km("50000"),
                    day.plusDays(chance.nextInt(90)),
                    km("" + (50_000 + gone + chance.nextInt(3000))));
            if (!day.isBefore(begun)) {
                assertThat(later.percent()).isLessThanOrEqualTo(now.percent());
            }
        }
    }

    @Test
    void endsByWhicheverComesFirstAndNeverByTheOtherAlone() {
        var chance = new Random(25);
        for (int i = 0; i < 2000; i++) {
            int months = 1 + chance.nextInt(48);
            int far = 1 + chance.nextInt(60_000);
            LocalDate begun = LocalDate.of(2024, 1, 1).plusDays(chance.nextInt(1500));
            LocalDate day = begun.plusDays(chance.nextInt(1600));
            int gone = chance.nextInt(70_000);
            var promise = new Promise(months, new BigDecimal(far), "km");
            boolean inTime = !day.isAfter(begun.plusMonths(months));
            assertThat(at(promise, begun, km("0"), day, km("" + gone)).covered())
                    .isEqualTo(inTime && gone <= far);
        }
    }

    private static Coverage at(Promise promise, LocalDate begun, Odometer from, LocalDate day, Odometer now) {
        return Coverage.of(promise, begun, from, day, now);
    }

    @Test
    void readsKilometresAndMilesAsTheSameWay() {
        // 12,000 mi are 19,312.128 km: the international mile is 1.609344 km (NIST SP 811, B.8).
        var promise = new Promise(12, new BigDecimal("12000"), "mi");
        assertThat(at(promise, km("100000"), BEGUN, km("119312")).covered()).isTrue();
        assertThat(at(promise, km("100000"), BEGUN, km("119313")).covered()).isFalse();
        var inMiles = new Odometer(new BigDecimal("74137"), "mi"); // 119,311.9 km
        assertThat(at(promise, km("100000"), BEGUN, inMiles).covered()).isTrue();
    }

    @Test
    void isJudgedByTimeAloneWhenAnOdometerIsMissingOrShowsLessThanBefore() {
        for (var now : new @Nullable Odometer[] {null, km("500")}) {
            var coverage = at(YEAR, km("86940"), BEGUN.plusMonths(3), now);
            assertThat(coverage.covered()).isTrue();
            assertThat(coverage.distanceKnown()).isFalse();
            assertThat(coverage.words()).endsWith("; the distance could not be judged");
        }
        assertThat(at(YEAR, null, BEGUN, km("5")).distanceKnown()).isFalse();
    }

    @Test
    void isNoneWhenNothingWasPromised() {
        assertThat(at(new Promise(0, null, "km"), km("1"), BEGUN, km("1")).covered())
                .isFalse();
        assertThat(new Promise(0, null, "km").words()).isEqualTo("no warranty");
    }

    @Test
    void saysUntilWhen() {
        assertThat(at(YEAR, km("86940"), BEGUN, km("86940")).words()).isEqualTo("until 9 Nov 2027 or 106,940 km");
        assertThat(at(YEAR, km("86940"), BEGUN.plusYears(2), km("90000")).words())
                .isEqualTo("ended on 9 Nov 2027 or at 106,940 km");
        assertThat(YEAR.words()).isEqualTo("12 months or 20,000 km, whichever comes first");
        assertThat(new Promise(1, null, "mi").words()).isEqualTo("1 month, any distance");
    }

    @Test
    void refusesAPromiseThatIsNone() {
        assertThatIllegalArgumentException().isThrownBy(() -> new Promise(-1, null, "km"));
        assertThatIllegalArgumentException().isThrownBy(() -> new Promise(1, BigDecimal.ZERO, "km"));
        assertThatIllegalArgumentException().isThrownBy(() -> new Promise(1, null, "m"));
    }

    private static Coverage at(Promise promise, @Nullable Odometer begunAt, LocalDate day, @Nullable Odometer now) {
        return Coverage.of(promise, BEGUN, begunAt, day, now);
    }

    private static Odometer km(String value) {
        return new Odometer(new BigDecimal(value), "km");
    }
}
