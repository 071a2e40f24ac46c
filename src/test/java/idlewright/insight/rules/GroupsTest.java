package idlewright.insight.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.insight.rules.HandedThread.Fitted;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class GroupsTest {

    private static final LocalDate BACK = LocalDate.of(2026, 1, 5);
    private static final LocalDate TODAY = LocalDate.of(2026, 11, 9);

    @Test
    void countsAThreadOnceInEachGroupItStandsIn() {
        var both =
                thread(1, 10, part("Halden", "AF-1", "Tern Parts", "L1"), part("Halden", "af 1", "Tern  parts", "L1"));
        var groups = Groups.of(Sorting.SUPPLIER, List.of(both, thread(2, null)));
        assertThat(groups.groups()).singleElement().satisfies(group -> {
            assertThat(group.name()).isEqualTo("Tern Parts");
            assertThat(group.whole()).isEqualTo(1);
            assertThat(group.returned()).isEqualTo(1);
        });
        assertThat(Groups.of(Sorting.PART, List.of(both)).groups()).hasSize(1);
        assertThat(Groups.of(Sorting.TECHNICIAN, List.of(both)).groups())
                .extracting(Groups.Group::name)
                .containsExactly("Tamsin");
    }

    @Test
    void putsTheMostComebacksFirstAndKeepsThreadsWithoutACause() {
        var threads = new ArrayList<HandedThread>();
        threads.add(thread(1, null));
        threads.add(caused(2, 5, null));
        threads.add(caused(3, 6, null));
        assertThat(Groups.of(Sorting.CAUSE, threads).groups())
                .extracting(Groups.Group::name)
                .containsExactly("cause not found", "Air-flow sensor reads too low");
    }

    @Test
    void tellsOfEveryLotAlsoOfThoseInWhichAllHeld() {
        var once = thread(1, null, part("Halden", "AF-1", "Tern Parts", "L1"));
        var back = thread(2, 9, part("Halden", "AF-1", "Tern Parts", "L2"));
        var threads = new ArrayList<HandedThread>(List.of(once, back));
        for (int i = 0; i < 14; i++) {
            threads.add(thread(10 + i, null, part("Halden", "AF-1", "Tern Parts", "L3")));
        }
        assertThat(Groups.of(Sorting.LOT, threads).groups())
                .extracting(group -> group.name() + ": " + group.returned() + " of " + group.whole())
                .containsExactly(
                        "air-flow sensor AF-1, lot L2: 1 of 1",
                        "air-flow sensor AF-1, lot L3: 0 of 14",
                        "air-flow sensor AF-1, lot L1: 0 of 1");
    }

    @Test
    void saysWhatStandsOutAndOnlyThat() {
        var threads = new ArrayList<HandedThread>();
        for (int i = 0; i < 20; i++) {
            threads.add(thread(i, i < 10 ? 20 : null, part("Halden", "AF-1", "Tern Parts", null)));
            threads.add(thread(100 + i, null, part("Marlow", "AF-9", "Ash Parts", null)));
        }
        // Fisher, 10 of 20 against 0 of 20: p = 0.0004, twice that after Holm for two looks.
        assertThat(Groups.of(Sorting.SUPPLIER, threads).said())
                .isEqualTo("More comebacks than the rest: Tern Parts. Fewer than the rest: Ash Parts. "
                        + "That is more than chance, also when looking at 2 at once.");
        assertThat(Groups.of(Sorting.SUPPLIER, threads.subList(18, 24)).said())
                .startsWith("None stands out from the rest by more than chance");
        assertThat(Groups.of(Sorting.SUPPLIER, threads.subList(38, 40)).said()).isEqualTo("None of them came back.");
        assertThat(Groups.of(Sorting.KIND, threads).said()).isEmpty();
    }

    @Test
    void saysWhatSmallNumbersMayMean() {
        // Wilson, 1 of 6: 0.0301 to 0.5635 (Newcombe 1998, method 3, worked by hand).
        assertThat(Groups.small(1, 6))
                .isEqualTo(
                        "These are few: 1 of 6 fits any true rate between 3 and 56 in a hundred. Look at each case before the rate.");
        assertThat(Groups.small(8, 200)).isEmpty();
        assertThat(Groups.small(0, 0)).isEmpty();
    }

    @Test
    void letsACarStillOutThereCountUntilTodayOnly() {
        // Kaplan and Meier by hand: back after 10 (of 4), out after 20, back after 30 (of 2), out after 40: 3/4, then
        // 3/4 x 1/2.
        var threads = List.of(lasting(10, true), lasting(20, false), lasting(30, true), lasting(40, false));
        double[][] curve = Lasting.of(threads, TODAY).curve();
        assertThat(curve[0]).containsExactly(0, 10, 30, 40);
        assertThat(curve[1]).containsExactly(100, 75, 37.5, 37.5);
        assertThat(curve[2][1]).isLessThan(75);
        assertThat(curve[3][1]).isGreaterThan(75);
        assertThat(Lasting.watched(threads, TODAY, 30)).isEqualTo(2);
    }

    @Test
    void drawsALevelLineWhileNothingCameBack() {
        double[][] curve = Lasting.of(List.of(lasting(3, false)), TODAY).curve();
        assertThat(curve[0]).containsExactly(0, 3);
        assertThat(curve[1]).containsExactly(100, 100);
    }

    @Test
    void comparesTwoGroupsAndWarnsOfSmallNumbers() {
        var compared = Lasting.compare(
                List.of(lasting(10, true), lasting(200, false), lasting(210, false)),
                List.of(lasting(100, false), lasting(220, false)),
                TODAY);
        assertThat(compared.shares())
                .startsWith("1 of 3, 33 %")
                .contains("against 0 of 2")
                .contains("could be chance");
        assertThat(compared.times()).contains("could be chance");
        assertThat(compared.small()).startsWith("With so few, only a very large difference would show.");
    }

    private static HandedThread lasting(int days, boolean back) {
        LocalDate handed = back ? BACK : TODAY.minusDays(days);
        return thread(days, back ? days : null, handed);
    }

    private static Fitted part(String maker, String number, String supplier, @Nullable String lot) {
        return new Fitted("air-flow sensor", number, maker, supplier, lot);
    }

    private static HandedThread thread(int ticket, @Nullable Integer days, Fitted... parts) {
        return thread(ticket, days, BACK, parts);
    }

    private static HandedThread thread(int ticket, @Nullable Integer days, LocalDate handed, Fitted... parts) {
        return made(ticket, days, handed, "air-sensor-low", parts);
    }

    private static HandedThread caused(int ticket, @Nullable Integer days, @Nullable String cause) {
        return made(ticket, days, BACK, cause);
    }

    private static HandedThread made(
            int ticket, @Nullable Integer days, LocalDate handed, @Nullable String cause, Fitted... parts) {
        return new HandedThread(
                ticket,
                1,
                "hesitation",
                "Hesitates",
                "it hesitates",
                "Brightwater Finch",
                null,
                handed,
                cause != null,
                cause,
                cause == null ? null : "Air-flow sensor reads too low",
                "Tamsin",
                List.of(parts),
                days == null ? null : handed.plusDays(days),
                null,
                null,
                null);
    }
}
