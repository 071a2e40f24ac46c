package idlewright.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.ground.WithDatabase;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.intake.rules.Whose;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.math.BigDecimal;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;

@SpringBootTest
@WithDatabase
class TicketsTest {

    @Autowired
    private Tickets tickets;

    @Autowired
    private Customers customers;

    @Autowired
    private Vehicles vehicles;

    @Autowired
    private Arrivals arrivals;

    @Autowired
    private People people;

    @Autowired
    private JdbcClient jdbc;

    private Person wren;
    private VehicleView van;

    @BeforeEach
    void comesIn() {
        String unique = UUID.randomUUID().toString().substring(0, 8);
        wren = people.hire("Wren " + unique, "wren-" + unique, "a quiet copper kettle", null, Set.of(Role.WRITER));
        van = people.as(wren, () -> {
            var bakery = customers.add(new Customers.Telling(
                    "Grand Row Bakery " + unique, "555 0142", null, "4 Grand Row", "PHONE", null));
            return vehicles.add(
                    bakery.id(),
                    new Vehicles.Telling(
                            null,
                            "KL " + unique,
                            "Brightwater",
                            "Finch 2.2 van",
                            2014,
                            "bw22",
                            new BigDecimal("2.2"),
                            4,
                            "PETROL",
                            "NATURAL",
                            "HOT_FILM",
                            "MANUAL",
                            "km"));
        });
    }

    @Test
    void keepsTheCustomersWordsToTheLetter() {
        String words = "“It hesitates”, she said –\nand then: 'pouf' 🚐, 100% of the time\\.";
        var ref = people.as(wren, () -> tickets.hear(open("86940"), "hesitation", words));
        assertThat(jdbc.sql("select words from symptom where ticket_number = ?")
                        .param(ref.ticket().value())
                        .query(String.class)
                        .single())
                .isEqualTo(words);
    }

    @Test
    void asksWhyTheOdometerShowsLessThanBefore() {
        people.as(wren, () -> open("86940"));
        assertThatThrownBy(() -> people.as(wren, () -> open("68940")))
                .isInstanceOfSatisfying(
                        Refused.class, no -> assertThat(no.problems()).containsKeys("distance", "distanceRemark"));
        TicketNumber answered = people.as(
                wren,
                () -> tickets.open(new Tickets.Opening(
                        van.id(), new BigDecimal("68940"), "the cluster was replaced", null, "SHOW", "YES")));
        assertThat(people.as(wren, () -> tickets.get(answered)).distanceIn().remark())
                .isEqualTo("the cluster was replaced");
    }

    @Test
    void showsAFreshTicketAsTheCountersMove() {
        var ref = people.as(wren, () -> tickets.hear(open("86940"), "hesitation", "It hesitates."));
        assertThat(people.as(wren, () -> tickets.open()))
                .filteredOn(line -> line.number().equals(ref.ticket()))
                .singleElement()
                .satisfies(line -> {
                    assertThat(line.move().whose()).isEqualTo(Whose.COUNTER);
                    assertThat(line.words()).isEqualTo("It hesitates.");
                });
    }

    @Test
    void refusesAMarkThatMayNotFollow() {
        var ref = people.as(wren, () -> tickets.hear(open("86940"), "hesitation", "It hesitates."));
        assertThatThrownBy(() -> stamp(ref, ThreadStamp.PROVED))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("Record the repair first");
    }

    @Test
    void refusesToChangeAStampEvenAsTheOwnerOfTheTable() {
        people.as(wren, () -> open("86940"));
        assertThatThrownBy(() -> jdbc.sql("update stamp set note = 'forged'").update())
                .isInstanceOf(DataAccessException.class);
        assertThatThrownBy(() -> jdbc.sql("delete from stamp").update()).isInstanceOf(DataAccessException.class);
    }

    @Test
    void showsBothValuesWhenTwoTerminalsAmendTheSameWords() {
        var ref = people.as(wren, () -> tickets.hear(open("86940"), "hesitation", "It hesitates."));
        int seen = people.as(wren, () -> tickets.get(ref.ticket())).symptom(1).version();
        amend(ref, seen, "It hesitates uphill.");
        assertThatThrownBy(() -> amend(ref, seen, "It hesitates downhill."))
                .isInstanceOfSatisfying(
                        Stale.class,
                        clash -> assertThat(clash.clashes())
                                .contains(new Stale.Clash("words", "It hesitates downhill.", "It hesitates uphill.")));
        assertThat(people.as(wren, () -> tickets.get(ref.ticket())).symptom(1).words())
                .isEqualTo("It hesitates uphill.");
    }

    @Test
    void keepsAnswersInTheOrderTheyAreAsked() {
        var ref = people.as(wren, () -> {
            var heard = tickets.hear(open("86940"), "hesitation", "It hesitates.");
            tickets.answer(heard, Map.of("often", "every day", "laden", "laden", "lamp", "off"));
            return heard;
        });
        assertThat(people.as(wren, () -> tickets.get(ref.ticket())).symptom(1).answers())
                .extracting(TicketView.Answer::answer)
                .containsExactly("laden", "every day", "off");
    }

    @Test
    void handsNothingBackBeforeTheInvoice() {
        TicketNumber number = people.as(wren, () -> open("86940"));
        assertThatThrownBy(() -> people.as(wren, () -> {
                    tickets.handBack(number, new BigDecimal("86960"), null, 7);
                    return null;
                }))
                .hasMessageContaining("Issue the invoice first");
        people.as(wren, () -> {
            tickets.stamp(number, TicketStamp.BILLED, "0.00");
            tickets.handBack(number, new BigDecimal("86960"), null, 7);
            return null;
        });
        assertThat(people.as(wren, () -> tickets.get(number)).has(TicketStamp.HANDED_BACK))
                .isTrue();
    }

    @Test
    void findsACarByAMistypedPlateNameOrPhone() {
        String plate = van.plate();
        String wrong = plate.substring(0, plate.length() - 1);
        assertThat(arrivals.known(wrong)).extracting(Arrivals.Known::vehicleId).contains(van.id());
        assertThat(arrivals.known("Grand Row Bakrey")).isNotEmpty();
        assertThat(arrivals.known("5550142")).isNotEmpty();
    }

    private TicketNumber open(String distance) {
        return tickets.open(new Tickets.Opening(van.id(), new BigDecimal(distance), null, "7", "SHOW", "YES"));
    }

    private void stamp(SymptomRef ref, ThreadStamp kind) {
        people.as(wren, () -> {
            tickets.stamp(ref, kind, null);
            return null;
        });
    }

    private void amend(SymptomRef ref, int version, String words) {
        people.as(wren, () -> {
            tickets.amend(ref, version, "hesitation", words);
            return null;
        });
    }
}
