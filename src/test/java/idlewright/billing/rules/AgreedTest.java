package idlewright.billing.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.billing.rules.Agreed.Given;
import idlewright.reference.money.Money;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Currency;
import java.util.List;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("What is agreed")
class AgreedTest {

    private static final Currency USD = Currency.getInstance("USD");

    @Test
    void addsUp() {
        assertThat(sum(
                        given(1, null, Agreement.DIAGNOSIS, 95),
                        given(2, null, Agreement.REPAIR, 300),
                        given(3, null, Agreement.RISE, 50)))
                .isEqualTo("445.00 of which 350.00 for the repair");
    }

    @Test
    void fallsToASumThatTookThePlaceOfTheRepairsButNotOfTheDiagnosis() {
        assertThat(sum(
                        given(1, null, Agreement.DIAGNOSIS, 95),
                        given(2, null, Agreement.REPAIR, 300),
                        given(3, null, Agreement.RISE, 50),
                        given(4, null, Agreement.INSTEAD, 120)))
                .isEqualTo("215.00 of which 120.00 for the repair");
    }

    @Test
    void risesAgainFromThere() {
        assertThat(sum(
                        given(1, null, Agreement.REPAIR, 300),
                        given(2, null, Agreement.INSTEAD, 120),
                        given(3, null, Agreement.RISE, 10)))
                .isEqualTo("130.00 of which 130.00 for the repair");
    }

    @Test
    void countsACorrectionWhereTheCorrectedStood() {
        // The sum instead was 120, then 10 more were agreed; later somebody sees that it had been 125.
        assertThat(sum(
                        given(1, null, Agreement.REPAIR, 300),
                        given(2, null, Agreement.INSTEAD, 120),
                        given(3, null, Agreement.RISE, 10),
                        given(4, 2L, Agreement.INSTEAD, 125)))
                .isEqualTo("135.00 of which 135.00 for the repair");
    }

    @Test
    void isTheSameInWhateverOrderItIsReadAndForgetsNothingAfterTheLastSumInstead() {
        long seed = 20261125;
        var random = new SplittableRandom(seed);
        for (int round = 0; round < 3_000; round++) {
            var given = new ArrayList<Given>();
            long diagnosis = 0;
            long repair = 0;
            int rows = random.nextInt(1, 12);
            for (int id = 1; id <= rows; id++) {
                Agreement kind = Agreement.values()[random.nextInt(Agreement.values().length)];
                int cents = random.nextInt(0, 100_000);
                given.add(new Given(id, null, kind, cents(cents)));
                switch (kind) {
                    case DIAGNOSIS -> diagnosis += cents;
                    case INSTEAD -> repair = cents;
                    case REPAIR, RISE -> repair += cents;
                }
            }
            // A row that corrects another to the same amount changes nothing, however often.
            int corrected = random.nextInt(rows);
            Long replaces = given.get(corrected).id();
            for (int more = 1; more <= random.nextInt(0, 3); more++) {
                long id = rows + (long) more;
                given.add(new Given(
                        id,
                        replaces,
                        given.get(corrected).kind(),
                        given.get(corrected).amount()));
                replaces = id;
            }
            Collections.shuffle(given, new java.util.Random(seed + round));
            String at = "seed %d, round %d".formatted(seed, round);
            assertThat(Agreed.forRepair(given, USD)).as(at).isEqualTo(cents(repair));
            assertThat(Agreed.sum(given, USD)).as(at).isEqualTo(cents(diagnosis + repair));
        }
    }

    private static String sum(Given... given) {
        return Agreed.sum(List.of(given), USD).text() + " of which "
                + Agreed.forRepair(List.of(given), USD).text() + " for the repair";
    }

    private static Money cents(long cents) {
        return new Money(java.math.BigDecimal.valueOf(cents, 2), USD);
    }

    private static Given given(long id, @Nullable Long replaces, Agreement kind, int dollars) {
        return new Given(id, replaces, kind, Money.of(dollars + ".00", "USD"));
    }
}
