package idlewright.journey;

import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.people.Sheet;
import idlewright.people.Shop;
import idlewright.people.Shops;
import java.time.ZoneId;
import java.util.Currency;
import java.util.Locale;
import java.util.Set;
import org.springframework.context.ApplicationContext;

/** The three people of a small shop, hired once into one database. */
record Crew(Person owner, Person writer, Person technician) {

    static final String PASSWORD = "three loose hose clamps";
    static final String PIN = "2580";

    static Crew of(ApplicationContext house) {
        var people = house.getBean(People.class);
        if (people.all().stream().noneMatch(person -> person.name().equals("Wren Alder"))) {
            house.getBean(Shops.class)
                    .set(
                            new Shop(
                                    "Millrace Motors",
                                    "12 Millrace\nHarrow Bend",
                                    "555 0100",
                                    "desk@millrace.example",
                                    "US-55-0100",
                                    Currency.getInstance("USD"),
                                    ZoneId.of("UTC"),
                                    true,
                                    Locale.US),
                            Sheet.A4);
            people.hire("Odile Marsh", "odile", PASSWORD, null, Set.of(Role.OWNER));
            people.hire("Wren Alder", "wren", PASSWORD, null, Set.of(Role.WRITER));
            people.hire("Tamsin Rook", "tamsin", PASSWORD, PIN, Set.of(Role.TECHNICIAN));
        }
        return new Crew(named(people, "Odile"), named(people, "Wren"), named(people, "Tamsin"));
    }

    private static Person named(People people, String first) {
        return people.all().stream()
                .filter(person -> person.name().startsWith(first))
                .findFirst()
                .orElseThrow();
    }
}
