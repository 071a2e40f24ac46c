package idlewright.billing;

import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.Paper;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.io.StringWriter;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;

/**
 * An invoice as machines read it: EN 16931 in the syntax of UN/CEFACT's Cross Industry Invoice (D16B). Made from what was
 * issued; no sum is worked out again. Amounts of a credit note stand above zero, as the norm wants them.
 */
final class EInvoiceXml {

    /** A line with the rate it was issued with. */
    record Billed(Line line, TaxRate rate) {}

    private record Group(String category, BigDecimal rate) {}

    private static final String NORM = "urn:cen.eu:en16931:2017";
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("yyyyMMdd");

    private final InvoiceView invoice;
    private final List<Billed> lines;
    private final EInvoices.SetUp shop;
    private final LocalDate issued;
    private final StringWriter text = new StringWriter();
    private final XMLStreamWriter xml;

    private EInvoiceXml(InvoiceView invoice, List<Billed> lines, EInvoices.SetUp shop, ZoneId zone)
            throws XMLStreamException {
        this.invoice = invoice;
        this.lines = lines;
        this.shop = shop;
        this.issued = LocalDate.ofInstant(invoice.issuedAt(), zone);
        this.xml = XMLOutputFactory.newDefaultFactory().createXMLStreamWriter(text);
    }

    static String of(InvoiceView invoice, List<Billed> lines, EInvoices.SetUp shop, ZoneId zone) {
        try {
            return new EInvoiceXml(invoice, lines, shop, zone).write();
        } catch (XMLStreamException e) {
            throw new IllegalStateException(e);
        }
    }

    private interface Inside {
        void write() throws XMLStreamException;
    }

    private String write() throws XMLStreamException {
        xml.writeStartDocument("UTF-8", "1.0");
        xml.writeStartElement("rsm:CrossIndustryInvoice");
        xml.writeAttribute("xmlns:rsm", "urn:un:unece:uncefact:data:standard:CrossIndustryInvoice:100");
        xml.writeAttribute(
                "xmlns:ram", "urn:un:unece:uncefact:data:standard:ReusableAggregateBusinessInformationEntity:100");
        xml.writeAttribute("xmlns:udt", "urn:un:unece:uncefact:data:standard:UnqualifiedDataType:100");
        within(
                "rsm:ExchangedDocumentContext",
                () -> within("ram:GuidelineSpecifiedDocumentContextParameter", () -> leaf("ram:ID", NORM)));
        within("rsm:ExchangedDocument", () -> {
            leaf("ram:ID", invoice.number());
            // UNTDID 1001: commercial invoice, credit note
            leaf("ram:TypeCode", invoice.creditNote() ? "381" : "380");
            within("ram:IssueDateTime", () -> day(issued));
            note("%s, ticket %s".formatted(invoice.vehicle(), invoice.ticket()));
            if (invoice.reason() != null) {
                note(invoice.reason());
            }
        });
        within("rsm:SupplyChainTradeTransaction", () -> {
            List<BigDecimal> nets = nets();
            for (int i = 0; i < lines.size(); i++) {
                line(i + 1, lines.get(i), nets.get(i));
            }
            parties();
            within(
                    "ram:ApplicableHeaderTradeDelivery",
                    () -> within(
                            "ram:ActualDeliverySupplyChainEvent",
                            () -> within("ram:OccurrenceDateTime", () -> day(issued))));
            settlement(nets);
        });
        xml.writeEndElement();
        xml.writeEndDocument();
        xml.flush();
        return text.toString();
    }

    private void line(int number, Billed billed, BigDecimal net) throws XMLStreamException {
        Line line = billed.line();
        within("ram:IncludedSupplyChainTradeLineItem", () -> {
            within("ram:AssociatedDocumentLineDocument", () -> leaf("ram:LineID", Integer.toString(number)));
            within("ram:SpecifiedTradeProduct", () -> {
                if (line.partNumber() != null && !line.partNumber().isBlank()) {
                    leaf("ram:SellerAssignedID", line.partNumber());
                }
                leaf("ram:Name", line.kind().words() + ": " + line.what());
            });
            // A price is never below zero: what is taken off is a quantity below zero.
            within(
                    "ram:SpecifiedLineTradeAgreement",
                    () -> within("ram:NetPriceProductTradePrice", () -> leaf("ram:ChargeAmount", price(line, net))));
            // UN/ECE Recommendation 20: hour, one
            within(
                    "ram:SpecifiedLineTradeDelivery",
                    () -> leaf(
                            "ram:BilledQuantity",
                            plain(net.signum() < 0 ? line.quantity().negate() : line.quantity()),
                            "unitCode",
                            line.kind() == LineKind.LABOUR ? "HUR" : "C62"));
            within("ram:SpecifiedLineTradeSettlement", () -> {
                Group group = group(billed.rate());
                within("ram:ApplicableTradeTax", () -> {
                    leaf("ram:TypeCode", "VAT");
                    leaf("ram:CategoryCode", group.category());
                    leaf("ram:RateApplicablePercent", plain(group.rate()));
                });
                within(
                        "ram:SpecifiedTradeSettlementLineMonetarySummation",
                        () -> leaf("ram:LineTotalAmount", amount(net)));
            });
        });
    }

    private void parties() throws XMLStreamException {
        var seller = invoice.terms().seller();
        within("ram:ApplicableHeaderTradeAgreement", () -> {
            if (!shop.buyerReference().isBlank()) {
                leaf("ram:BuyerReference", shop.buyerReference());
            }
            within("ram:SellerTradeParty", () -> {
                leaf("ram:Name", seller.name());
                address(seller.address());
                if (!shop.email().isBlank()) {
                    within("ram:URIUniversalCommunication", () -> leaf("ram:URIID", shop.email(), "schemeID", "EM"));
                }
                registration("VA", shop.vatId());
                registration("FC", shop.taxNumber());
            });
            within("ram:BuyerTradeParty", () -> {
                leaf("ram:Name", invoice.customer());
                address(invoice.address() == null ? "" : invoice.address());
            });
        });
    }

    private void address(String lines) throws XMLStreamException {
        List<String> each =
                lines.lines().map(String::strip).filter(line -> !line.isEmpty()).toList();
        within("ram:PostalTradeAddress", () -> {
            if (!each.isEmpty()) leaf("ram:LineOne", each.get(0));
            if (each.size() > 1) leaf("ram:LineTwo", each.get(1));
            if (each.size() > 2) leaf("ram:LineThree", String.join(", ", each.subList(2, each.size())));
            leaf("ram:CountryID", shop.country());
        });
    }

    private void registration(String scheme, String number) throws XMLStreamException {
        if (!number.isBlank()) {
            within("ram:SpecifiedTaxRegistration", () -> leaf("ram:ID", number, "schemeID", scheme));
        }
    }

    private void settlement(List<BigDecimal> nets) throws XMLStreamException {
        String currency = invoice.total().currency().getCurrencyCode();
        within("ram:ApplicableHeaderTradeSettlement", () -> {
            leaf("ram:InvoiceCurrencyCode", currency);
            for (var group : groups().entrySet()) {
                within("ram:ApplicableTradeTax", () -> {
                    leaf("ram:CalculatedAmount", amount(group.getValue()[1]));
                    leaf("ram:TypeCode", "VAT");
                    if (group.getKey().category().equals("E")) {
                        leaf("ram:ExemptionReason", because());
                    }
                    leaf("ram:BasisAmount", amount(group.getValue()[0]));
                    leaf("ram:CategoryCode", group.getKey().category());
                    leaf("ram:RateApplicablePercent", plain(group.getKey().rate()));
                });
            }
            within("ram:SpecifiedTradePaymentTerms", () -> {
                if (invoice.creditNote()) {
                    leaf("ram:Description", "Given back");
                } else {
                    within("ram:DueDateDateTime", () -> day(invoice.due()));
                }
            });
            within("ram:SpecifiedTradeSettlementHeaderMonetarySummation", () -> {
                leaf("ram:LineTotalAmount", amount(nets.stream().reduce(BigDecimal.ZERO, BigDecimal::add)));
                leaf("ram:TaxBasisTotalAmount", amount(shown(invoice.net())));
                leaf("ram:TaxTotalAmount", amount(shown(invoice.tax())), "currencyID", currency);
                leaf("ram:GrandTotalAmount", amount(shown(invoice.total())));
                leaf("ram:TotalPrepaidAmount", amount(invoice.terms().deposit().amount()));
                leaf("ram:DuePayableAmount", amount(shown(invoice.toPay())));
            });
            if (invoice.credits() != null) {
                within("ram:InvoiceReferencedDocument", () -> leaf("ram:IssuerAssignedID", invoice.credits()));
            }
        });
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
        return exemption == null ? shop.untaxedBecause() : exemption.words();
    }

    private static BigDecimal key(TaxRate rate) {
        return rate.percent().stripTrailingZeros();
    }

    private BigDecimal shown(Money money) {
        return invoice.creditNote() ? money.amount().negate() : money.amount();
    }

    private String price(Line line, BigDecimal net) {
        return invoice.terms().withTax()
                ? plain(net.abs().divide(line.quantity(), 6, RoundingMode.HALF_UP))
                : plain(line.each().amount().abs());
    }

    /** Amounts have two decimals at most; none is written that is not there. */
    private static String amount(BigDecimal amount) {
        return amount.setScale(2, RoundingMode.HALF_UP).toPlainString();
    }

    private static String plain(BigDecimal number) {
        return number.signum() == 0 ? "0" : number.stripTrailingZeros().toPlainString();
    }

    private void note(String words) throws XMLStreamException {
        within("ram:IncludedNote", () -> leaf("ram:Content", words));
    }

    private void day(LocalDate day) throws XMLStreamException {
        leaf("udt:DateTimeString", day.format(DAY), "format", "102");
    }

    private void within(String name, Inside inside) throws XMLStreamException {
        xml.writeStartElement(name);
        inside.write();
        xml.writeEndElement();
    }

    private void leaf(String name, String words) throws XMLStreamException {
        within(name, () -> xml.writeCharacters(Paper.printable(words)));
    }

    private void leaf(String name, String words, String attribute, String value) throws XMLStreamException {
        xml.writeStartElement(name);
        xml.writeAttribute(attribute, value);
        xml.writeCharacters(Paper.printable(words));
        xml.writeEndElement();
    }
}
