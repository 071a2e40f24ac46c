package idlewright.repair;

import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.math.BigDecimal;
import java.util.Set;
import java.util.concurrent.ThreadLocalRandom;

/** Opens visits for tests of the later rooms. */
public class Visit {

    /** A van of which no more is known than what stands on it. */
    public static final Vehicles.Telling VAN = new Vehicles.Telling(
            null, "KL 204", "Brightwater", "Finch", null, null, null, null, null, null, null, null, null);

    private final Customers customers;
    private final Vehicles vehicles;
    private final Tickets tickets;
    private final People people;

    public Visit(Customers customers, Vehicles vehicles, Tickets tickets, People people) {
        this.customers = customers;
        this.vehicles = vehicles;
        this.tickets = tickets;
        this.people = people;
    }

    public Person hire(Role... roles) {
        String name = "p" + ThreadLocalRandom.current().nextInt(1_000_000_000);
        return people.hire(name, name, "a long pass phrase " + name, null, Set.of(roles));
    }

    /** A car comes in with one complaint: a hesitation. */
    public SymptomRef open(String words) {
        var customer = customers.add(new Customers.Telling("Ines Grand", "555 0142", null, null, "PHONE", null));
        var vehicle = vehicles.add(
                customer.id(),
                new Vehicles.Telling(
                        null,
                        "KL 204 B",
                        "Brightwater",
                        "Finch",
                        2019,
                        "BW22",
                        new BigDecimal("2.2"),
                        4,
                        "PETROL",
                        "NATURAL",
                        "HOT_FILM",
                        "MANUAL",
                        "km"));
        var number =
                tickets.open(new Tickets.Opening(vehicle.id(), new BigDecimal("86940"), null, null, "SHOW", "YES"));
        return tickets.hear(number, "hesitation", words);
    }
}
