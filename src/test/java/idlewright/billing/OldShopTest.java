package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.ground.TestDatabase;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.springframework.core.io.Resource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;

/** Invoices and payments of a shop that worked before tax was frozen. */
@Tag("database")
@DisplayName("A shop from before V13")
class OldShopTest {

    @Test
    @DisplayName("keeps what its invoices said, and its payments find their customer and day")
    void keepsWhatItsInvoicesSaid() throws Exception {
        var login = TestDatabase.fresh().owner();
        try (Connection connection = DriverManager.getConnection(login.url(), login.role(), login.password());
                Statement sql = connection.createStatement()) {
            migrate(sql, 1, 12);
            sql.execute("create view insight_something as select quantity * each as amount from charge");
            sql.execute("""
                    insert into shop (name, address, phone, email, tax_number, currency, zone, metric, locale, sheet)
                    values ('Millrace Motors', '12 Millrace', '555 0100', 'a@b.example', 'T-1', 'USD', 'America/New_York', true, 'en-US', 'A4')""");
            sql.execute(
                    "update rates set tax_name = 'Sales tax', tax_parts = 8.25, tax_labour = 5, foot = 'Thank you.'");
            sql.execute("insert into customer (name, made_at) values ('Grand Row Bakery', now())");
            sql.execute(
                    "insert into vehicle (customer_id, make, model, made_at) values (1, 'Brightwater', 'Finch', now())");
            sql.execute("""
                    insert into ticket (number, vehicle_id, customer_id, opened_at, opened_by, old_parts, road_test)
                    values (1042, 1, 1, now(), 'Wren', 'SHOW', 'YES')""");
            sql.execute("""
                    insert into invoice (number, series, sequence, ticket_number, issued_at, issued_by, due, currency, net, tax, total,
                        customer, vehicle, journal_head)
                    values ('A-00001', 'A', 1, 1042, '2026-03-02T03:30:00Z', 'Wren', '2026-03-01', 'USD', 110.30, 5.85, 116.15,
                        'Grand Row Bakery', 'Finch', 'x')""");
            // 10.30 with 8.25 % is 0.84975, which is 0.85: as it was shown before.
            sql.execute("""
                    insert into invoice_line (invoice_number, nr, place, kind, what, quantity, each, net, tax_percent)
                    values ('A-00001', 1, 1, 'LABOUR', 'Work', 1, 100, 100, 5), ('A-00001', 2, 1, 'PART', 'Clip', 1, 10.30, 10.30, 8.25)""");
            sql.execute("""
                    insert into payment (invoice_number, amount, method, at, who)
                    values ('A-00001', 116.15, 'CASH', '2026-03-02T03:40:00Z', 'Wren')""");

            migrate(sql, 13, 14);

            assertThat(rows(sql, "select percent, net, tax, left_off from invoice_tax order by percent"))
                    .containsExactly("5.000 100.000 5.000 0.000", "8.250 10.300 0.850 0.000");
            assertThat(rows(sql, "select sum(tax) - (select tax from invoice) from invoice_tax"))
                    .containsExactly("0.000");
            assertThat(
                            rows(
                                    sql,
                                    "select tax_name, foot, seller_name, seller_tax_number, prices, rounding, deposit, customer_id, booked from invoice"))
                    .containsExactly("Sales tax Thank you. Millrace Motors T-1 BEFORE_TAX INVOICE 0.000 1 2026-03-01");
            assertThat(rows(sql, "select customer_id, booked, amount from payment"))
                    .containsExactly("1 2026-03-01 116.150");
            assertThat(rows(sql, "select tax_fees, tax_sublet from rates")).containsExactly("8.250 5.000");
            for (String change :
                    List.of("update invoice set foot = ''", "delete from payment", "delete from invoice_tax")) {
                assertThat(refused(sql, change)).as(change).isTrue();
            }
        }
    }

    private static void migrate(Statement sql, int from, int to) throws IOException, SQLException {
        Resource[] found = new PathMatchingResourcePatternResolver().getResources("classpath:db/migration/V*.sql");
        List<Resource> wanted = Arrays.stream(found)
                .filter(file -> number(file) >= from && number(file) <= to)
                .sorted(Comparator.comparingInt(OldShopTest::number))
                .toList();
        for (Resource file : wanted) {
            sql.execute(file.getContentAsString(StandardCharsets.UTF_8));
        }
    }

    private static int number(Resource file) {
        String name = String.valueOf(file.getFilename());
        return Integer.parseInt(name.substring(1, name.indexOf("__")));
    }

    private static List<String> rows(Statement sql, String query) throws SQLException {
        var rows = new ArrayList<String>();
        try (ResultSet found = sql.executeQuery(query)) {
            while (found.next()) {
                var row = new ArrayList<String>();
                for (int i = 1; i <= found.getMetaData().getColumnCount(); i++) {
                    row.add(found.getString(i));
                }
                rows.add(String.join(" ", row));
            }
        }
        return rows;
    }

    private static boolean refused(Statement sql, String change) {
        try {
            sql.execute(change);
            return false;
        } catch (SQLException e) {
            return true;
        }
    }
}
