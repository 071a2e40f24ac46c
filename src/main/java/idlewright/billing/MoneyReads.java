package idlewright.billing;

import idlewright.billing.Authorisations.AuthorisationView;
import idlewright.billing.Charges.ChargeView;
import idlewright.billing.Payments.PaymentView;
import idlewright.frame.ReadOnce;
import idlewright.frame.Together;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.reference.money.Money;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.springframework.stereotype.Component;

/** Reads all that the money knows of a ticket, in one statement. */
@Component
class MoneyReads {

    /**
     * The newest estimate first, everything else the oldest.
     *
     * @param held what is left of the deposits
     * @param invoice without its lines and its story
     */
    record Sheet(
            List<AuthorisationView> authorisations,
            List<PaymentView> deposits,
            Money held,
            List<EstimateView> estimates,
            List<ChargeView> charges,
            Optional<InvoiceView> invoice) {}

    private record SheetOf(TicketNumber ticket) {}

    private final Together together;
    private final Tickets tickets;
    private final Rates rates;
    private final Consents consents;
    private final ReadOnce once;

    MoneyReads(Together together, Tickets tickets, Rates rates, Consents consents, ReadOnce once) {
        this.together = together;
        this.tickets = tickets;
        this.rates = rates;
        this.consents = consents;
        this.once = once;
    }

    Sheet of(TicketNumber number) {
        return once.of(new SheetOf(number), () -> read(number));
    }

    private Sheet read(TicketNumber number) {
        var told = together.read(
                Map.of("ticket", number.value()),
                Rates.CARD,
                Authorisations.OF_TICKET,
                Payments.OF_TICKET,
                EstimateReads.OF_TICKET,
                Charges.OF_TICKET,
                InvoiceRows.OF_TICKET,
                Credits.HELD,
                Rates.OF_TICKET);
        rates.know(Rates.card(told.get(0).get(0)));
        rates.know(number, told.get(7));
        consents.know(Consents.terms(told.get(0).get(0)));
        var currency = rates.currency();
        return new Sheet(
                told.get(1).stream().map(r -> Authorisations.view(r, currency)).toList(),
                told.get(2).stream().map(r -> Payments.view(r, currency)).toList(),
                Money.rounded(told.get(6).get(0).getBigDecimal("held"), currency),
                told.get(3).isEmpty() ? List.of() : EstimateReads.views(told.get(3), rates.taxes(number), currency),
                told.get(4).stream().map(r -> Charges.view(r, currency)).toList(),
                told.get(5).stream().map(InvoiceRows::head).findFirst());
    }
}
