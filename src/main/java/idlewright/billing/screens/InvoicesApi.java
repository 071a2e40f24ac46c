package idlewright.billing.screens;

import com.fasterxml.jackson.annotation.JsonInclude;
import idlewright.billing.InvoiceView;
import idlewright.billing.Invoices;
import idlewright.billing.Ledger;
import idlewright.billing.Payments;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.people.ByKey;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ContentDisposition;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Invoices, payments and the bookkeeper's journal for the shop's other programs; reads only. */
@RestController
@ByKey
class InvoicesApi {

    private static final int MOST = 5_000;
    private static final LocalDate BEGINNING = LocalDate.of(1970, 1, 1);

    private final Invoices invoices;
    private final Payments payments;
    private final Ledger ledger;
    private final Times times;

    InvoicesApi(Invoices invoices, Payments payments, Ledger ledger, Times times) {
        this.invoices = invoices;
        this.payments = payments;
        this.ledger = ledger;
        this.times = times;
    }

    record InvoiceList(LocalDate from, LocalDate to, List<InvoiceHead> invoices) {}

    @JsonInclude
    record InvoiceHead(
            String number,
            @Nullable String credits,
            LocalDate date,
            LocalDate due,
            int ticket,
            String customer,
            BigDecimal net,
            BigDecimal tax,
            BigDecimal total,
            BigDecimal credited,
            BigDecimal paid,
            BigDecimal owed,
            String state,
            String currency) {}

    @JsonInclude
    record InvoiceWhole(
            String number,
            @Nullable String credits,
            List<String> creditedBy,
            LocalDate date,
            LocalDate due,
            int ticket,
            String customer,
            String vehicle,
            BigDecimal net,
            BigDecimal tax,
            BigDecimal total,
            BigDecimal credited,
            BigDecimal deposit,
            BigDecimal paid,
            BigDecimal owed,
            String state,
            String currency,
            String taxName,
            boolean pricesWithTax,
            @Nullable String exemption,
            List<InvoiceTax> taxes,
            List<InvoiceItem> lines) {}

    record InvoiceTax(BigDecimal percent, BigDecimal net, BigDecimal tax, BigDecimal leftOff) {}

    @JsonInclude
    record InvoiceItem(
            String kind,
            String what,
            @Nullable String partNumber,
            BigDecimal quantity,
            BigDecimal each,
            BigDecimal amount) {}

    record PaymentList(LocalDate from, LocalDate to, List<MoneyMove> payments) {}

    @JsonInclude
    record MoneyMove(
            String receipt,
            LocalDate date,
            LocalDate booked,
            String kind,
            String method,
            BigDecimal amount,
            String currency,
            @Nullable String invoice,
            @Nullable Integer ticket) {}

    @GetMapping("/api/invoices")
    InvoiceList invoices(
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Nullable String to) {
        Span span = span(from, to);
        var found = ledger.issued(span.from(), span.to(), MOST + 1);
        if (found.size() > MOST) {
            throw Refused.at("from", "These are more than 5,000 invoices. Ask for fewer days at a time.");
        }
        return new InvoiceList(
                span.from(),
                span.to(),
                found.stream()
                        .map(one -> new InvoiceHead(
                                one.number(),
                                one.credits(),
                                one.date(),
                                one.due(),
                                one.ticket(),
                                one.customer(),
                                one.net().amount(),
                                one.tax().amount(),
                                one.total().amount(),
                                one.credited().amount(),
                                one.paid().amount(),
                                one.owed().amount(),
                                one.state(),
                                one.total().currency().getCurrencyCode()))
                        .toList());
    }

    @GetMapping("/api/invoices/{number:[A-Z0-9]+-\\d+}")
    InvoiceWhole invoice(@PathVariable String number) {
        InvoiceView one = invoices.get(number);
        var terms = one.terms();
        return new InvoiceWhole(
                one.number(),
                one.credits(),
                one.creditedBy().stream().map(InvoiceView.CreditNote::number).toList(),
                LocalDate.ofInstant(one.issuedAt(), times.zone()),
                one.due(),
                one.ticket().value(),
                one.customer(),
                one.vehicle(),
                one.net().amount(),
                one.tax().amount(),
                one.total().amount(),
                one.credited().amount(),
                terms.deposit().amount(),
                one.paid().amount(),
                one.owed().amount(),
                one.state(),
                one.total().currency().getCurrencyCode(),
                terms.taxName(),
                terms.withTax(),
                terms.exemption() == null ? null : terms.exemption().number(),
                one.taxes().stream()
                        .map(tax -> new InvoiceTax(
                                tax.rate().percent(),
                                tax.net().amount(),
                                tax.tax().amount(),
                                tax.leftOff().amount()))
                        .toList(),
                one.parts().stream()
                        .flatMap(part -> part.lines().stream())
                        .map(line -> new InvoiceItem(
                                line.kind().words(),
                                line.what(),
                                line.partNumber(),
                                line.quantity(),
                                line.each().amount(),
                                line.net().amount()))
                        .toList());
    }

    @GetMapping("/api/invoices/{number:[A-Z0-9]+-\\d+}.pdf")
    ResponseEntity<byte[]> pdf(@PathVariable String number) {
        return ResponseEntity.ok()
                .contentType(MediaType.APPLICATION_PDF)
                .header(
                        "Content-Disposition",
                        ContentDisposition.attachment()
                                .filename(number + ".pdf")
                                .build()
                                .toString())
                .body(invoices.pdf(number));
    }

    @GetMapping("/api/payments")
    PaymentList payments(
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Nullable String to) {
        Span span = span(from, to);
        return new PaymentList(
                span.from(),
                span.to(),
                payments.between(span.from(), span.to()).stream()
                        .map(one -> new MoneyMove(
                                one.receipt(),
                                LocalDate.ofInstant(one.at(), times.zone()),
                                one.booked(),
                                one.booking().words(),
                                one.how().words(),
                                one.amount().amount(),
                                one.amount().currency().getCurrencyCode(),
                                one.invoice(),
                                one.ticket()))
                        .toList());
    }

    @GetMapping("/api/export.csv")
    ResponseEntity<byte[]> export(
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Nullable String to) {
        Span span = span(from, to);
        return ExportScreen.csv(
                "journal-%s-%s.csv".formatted(span.from(), span.to()), ledger.journal(span.from(), span.to()));
    }

    /** From the first to tomorrow where nothing is said: what is paid after the day's close is booked on the next. */
    private Span span(@Nullable String from, @Nullable String to) {
        return Span.read(from, to, BEGINNING, times.today().plusDays(1));
    }
}
