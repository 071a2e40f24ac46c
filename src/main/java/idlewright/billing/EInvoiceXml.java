package idlewright.billing;

import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.Paper;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Date;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.mustangproject.Invoice;
import org.mustangproject.Item;
import org.mustangproject.Product;
import org.mustangproject.ReferencedDocument;
import org.mustangproject.TradeParty;
import org.mustangproject.ZUGFeRD.IExportableTransaction;
import org.mustangproject.ZUGFeRD.LineCalculator;
import org.mustangproject.ZUGFeRD.TransactionCalculator;
import org.mustangproject.ZUGFeRD.VATAmount;
import org.mustangproject.ZUGFeRD.ZUGFeRD2PullProvider;

/**
 * An invoice as machines read it: EN 16931 in the syntax of UN/CEFACT's Cross Industry Invoice (D16B), written by the Mustang
 * library. Every sum in it is one that was issued: the library's own reckoning is replaced. Amounts of a credit note stand above
 * zero, as the norm wants them.
 */
final class EInvoiceXml {

    /** A line with the rate it was issued with. */
    record Billed(Line line, TaxRate rate) {}

    private record Group(String category, BigDecimal rate) {}

    private final InvoiceView invoice;
    private final List<Billed> lines;
    private final EInvoices.SetUp shop;
    private final LocalDate issued;

    private EInvoiceXml(InvoiceView invoice, List<Billed> lines, EInvoices.SetUp shop, ZoneId zone) {
        this.invoice = invoice;
        this.lines = lines;
        this.shop = shop;
        this.issued = LocalDate.ofInstant(invoice.issuedAt(), zone);
    }

    static String of(InvoiceView invoice, List<Billed> lines, EInvoices.SetUp shop, ZoneId zone) {
        return new EInvoiceXml(invoice, lines, shop, zone).write();
    }

    private String write() {
        List<BigDecimal> nets = nets();
        var paper = new Invoice()
                .setNumber(printable(invoice.number()))
                // UNTDID 1001: commercial invoice, credit note
                .setDocumentCode(invoice.creditNote() ? "381" : "380")
                .setCurrency(invoice.total().currency().getCurrencyCode())
                .setIssueDate(day(issued))
                .setDeliveryDate(day(issued))
                .setSender(seller())
                .setRecipient(party(invoice.customer(), invoice.address()))
                .addNote(printable("%s, ticket %s".formatted(invoice.vehicle(), invoice.ticket())));
        if (!shop.buyerReference().isBlank()) {
            paper.setReferenceNumber(printable(shop.buyerReference()));
        }
        if (invoice.reason() != null) {
            paper.addNote(printable(invoice.reason()));
        }
        if (invoice.credits() == null) {
            paper.setDueDate(day(invoice.due()))
                    .setPaymentTermDescription("Due on " + invoice.due().format(DateTimeFormatter.ISO_DATE));
        } else {
            paper.addInvoiceReferencedDocument(new ReferencedDocument(invoice.credits()))
                    .setPaymentTermDescription("Given back");
        }
        for (int i = 0; i < lines.size(); i++) {
            paper.addItem(item(lines.get(i), nets.get(i)));
        }
        var writer = new Writer(new Sums(paper, nets));
        writer.generateXML(paper);
        return new String(writer.getXML(), StandardCharsets.UTF_8);
    }

    private Item item(Billed billed, BigDecimal net) {
        Line line = billed.line();
        Group group = group(billed.rate());
        // UN/ECE Recommendation 20: hour, one
        String unit = line.kind() == LineKind.LABOUR ? "HUR" : "C62";
        var product = new Product(printable(line.kind().words() + ": " + line.what()), "", unit, group.rate());
        product.setTaxCategoryCode(group.category());
        if (line.partNumber() != null && !line.partNumber().isBlank()) {
            product.setSellerAssignedID(printable(line.partNumber()));
        }
        // A price is never below zero: what is taken off is a quantity below zero.
        BigDecimal quantity = net.signum() < 0 ? line.quantity().negate() : line.quantity();
        return new Item(product, price(line, net), quantity) {
            @Override
            public LineCalculator getCalculation() {
                return new LineCalculator(this) {
                    @Override
                    public BigDecimal getItemTotalNetAmount() {
                        return net;
                    }
                };
            }
        };
    }

    private TradeParty seller() {
        var seller = invoice.terms().seller();
        TradeParty party = party(seller.name(), seller.address());
        if (!shop.email().isBlank()) {
            party.setEmail(printable(shop.email()));
        }
        if (!shop.vatId().isBlank()) {
            party.addVATID(printable(shop.vatId()));
        }
        if (!shop.taxNumber().isBlank()) {
            party.addTaxID(printable(shop.taxNumber()));
        }
        return party;
    }

    private TradeParty party(String name, @Nullable String address) {
        var party = new TradeParty().setName(printable(name)).setCountry(shop.country());
        List<String> each = (address == null ? "" : address)
                .lines()
                .map(String::strip)
                .filter(line -> !line.isEmpty())
                .map(EInvoiceXml::printable)
                .toList();
        if (!each.isEmpty()) {
            party.setStreet(each.get(0));
        }
        if (each.size() > 1) {
            party.setAdditionalAddress(each.get(1));
        }
        if (each.size() > 2) {
            party.setAdditionalAddressExtension(String.join(", ", each.subList(2, each.size())));
        }
        return party;
    }

    /** Tells the library the sums that were issued. */
    private final class Sums extends TransactionCalculator {

        private final List<BigDecimal> nets;

        Sums(IExportableTransaction paper, List<BigDecimal> nets) {
            super(paper);
            this.nets = nets;
        }

        @Override
        protected BigDecimal getTotal() {
            return nets.stream().reduce(BigDecimal.ZERO, BigDecimal::add);
        }

        @Override
        public BigDecimal getTaxBasis() {
            return shown(invoice.net());
        }

        @Override
        public BigDecimal getGrandTotal() {
            return shown(invoice.total());
        }

        @Override
        protected BigDecimal getTotalPrepaid() {
            return invoice.terms().deposit().amount();
        }

        @Override
        public BigDecimal getDuePayable() {
            return shown(invoice.toPay());
        }

        @Override
        protected List<VATAmount> getVATAmountList() {
            return groups().entrySet().stream()
                    .map(group -> new VATAmount(
                                    group.getValue()[0],
                                    group.getValue()[1],
                                    group.getKey().category(),
                                    null,
                                    group.getKey().rate())
                            .setVatExemptionReasonText(because()))
                    .toList();
        }
    }

    /** The library's writer with those sums, and with rates of as many decimals as they have. */
    private static final class Writer extends ZUGFeRD2PullProvider {

        private final TransactionCalculator sums;

        Writer(TransactionCalculator sums) {
            this.sums = sums;
        }

        @Override
        protected TransactionCalculator createCalculator(IExportableTransaction paper) {
            return sums;
        }

        @Override
        protected String vatFormat(BigDecimal rate) {
            return rate.signum() == 0 ? "0" : rate.stripTrailingZeros().toPlainString();
        }
    }

    /** The lines without tax; where prices hold it, each rate's sum is spread over its lines so that nothing is lost. */
    private List<BigDecimal> nets() {
        var toSpread = new LinkedHashMap<BigDecimal, BigDecimal>();
        for (Billed billed : lines) {
            toSpread.merge(key(billed.rate()), billed.line().net().amount(), BigDecimal::add);
        }
        var spread = new LinkedHashMap<BigDecimal, BigDecimal[]>();
        var nets = new ArrayList<BigDecimal>();
        for (Billed billed : lines) {
            BigDecimal rate = key(billed.rate());
            Money amount = billed.line().net();
            if (!invoice.terms().withTax()) {
                nets.add(shown(amount));
                continue;
            }
            BigDecimal sum = toSpread.get(rate);
            BigDecimal net = invoice.taxes().stream()
                    .filter(tax -> key(tax.rate()).equals(rate))
                    .map(tax -> tax.net().amount())
                    .reduce(BigDecimal.ZERO, BigDecimal::add);
            BigDecimal share = sum.signum() == 0
                    ? BigDecimal.valueOf(100).divide(rate.add(BigDecimal.valueOf(100)), 12, RoundingMode.HALF_UP)
                    : net.divide(sum, 12, RoundingMode.HALF_UP);
            BigDecimal[] soFar = spread.computeIfAbsent(rate, r -> new BigDecimal[] {BigDecimal.ZERO, BigDecimal.ZERO});
            soFar[0] = soFar[0].add(amount.amount());
            BigDecimal upToHere =
                    soFar[0].multiply(share).setScale(amount.amount().scale(), RoundingMode.HALF_UP);
            BigDecimal own = upToHere.subtract(soFar[1]);
            soFar[1] = upToHere;
            nets.add(invoice.creditNote() ? own.negate() : own);
        }
        return nets;
    }

    private Map<Group, BigDecimal[]> groups() {
        var groups = new LinkedHashMap<Group, BigDecimal[]>();
        for (var tax : invoice.taxes()) {
            groups.merge(group(tax.rate()), new BigDecimal[] {shown(tax.net()), shown(tax.tax())}, (one, more) ->
                    new BigDecimal[] {one[0].add(more[0]), one[1].add(more[1])});
        }
        return groups;
    }

    /** UNTDID 5305: standard rate, exempt from tax. */
    private Group group(TaxRate rate) {
        boolean none = invoice.terms().exemption() != null || rate.percent().signum() == 0;
        return none ? new Group("E", BigDecimal.ZERO) : new Group("S", key(rate));
    }

    private String because() {
        var exemption = invoice.terms().exemption();
        return printable(exemption == null ? shop.untaxedBecause() : exemption.words());
    }

    private static BigDecimal key(TaxRate rate) {
        return rate.percent().stripTrailingZeros();
    }

    private BigDecimal shown(Money money) {
        return invoice.creditNote() ? money.amount().negate() : money.amount();
    }

    private BigDecimal price(Line line, BigDecimal net) {
        return invoice.terms().withTax()
                ? net.abs().divide(line.quantity(), 6, RoundingMode.HALF_UP)
                : line.each().amount().abs();
    }

    /** The library takes a day at midnight of the machine's own zone. */
    private static Date day(LocalDate day) {
        return Date.from(day.atStartOfDay(ZoneId.systemDefault()).toInstant());
    }

    private static String printable(String words) {
        return Paper.printable(words);
    }
}
