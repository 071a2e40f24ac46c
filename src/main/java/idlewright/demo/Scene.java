package idlewright.demo;

import idlewright.billing.Authorisations;
import idlewright.billing.Charges;
import idlewright.billing.Estimates;
import idlewright.billing.Invoices;
import idlewright.billing.Payments;
import idlewright.billing.Rates;
import idlewright.intake.Customers;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.journal.Exhibits;
import idlewright.people.ApiKeys;
import idlewright.people.People;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/** The front doors as the demo maker finds them, and what it has to remember by name. */
@Component
@Profile("demo")
record Scene(
        People people,
        Shops shops,
        ApiKeys keys,
        Customers customers,
        Vehicles vehicles,
        Tickets tickets,
        Exhibits exhibits,
        Rates rates,
        Estimates estimates,
        Authorisations authorisations,
        Charges charges,
        Invoices invoices,
        Payments payments,
        Memory memory) {

    /** Names of the script to numbers of the database; what is new since the last mark is kept with the next one. */
    @Component
    @Profile("demo")
    static class Memory {

        private final Map<String, Long> known = new HashMap<>();
        private final Map<String, Long> fresh = new LinkedHashMap<>();

        void learn(Map<String, Long> earlier) {
            known.putAll(earlier);
        }

        Map<String, Long> takeFresh() {
            var taken = new LinkedHashMap<>(fresh);
            fresh.clear();
            return taken;
        }
    }

    void remember(String name, long number) {
        memory.known.put(name, number);
        memory.fresh.put(name, number);
    }

    long number(String name) {
        Long number = memory.known.get(name);
        if (number == null) {
            throw new IllegalStateException("The demo script asks for " + name + " before it is made");
        }
        return number;
    }

    TicketNumber ticket(String story) {
        return new TicketNumber((int) number(story));
    }

    Money money(String amount) {
        return Money.of(amount, rates.currency().getCurrencyCode());
    }
}
