package idlewright.billing.model;

import idlewright.billing.rules.Line;
import jakarta.persistence.Entity;
import jakarta.persistence.GeneratedValue;
import jakarta.persistence.GenerationType;
import jakarta.persistence.Id;
import java.math.BigDecimal;
import org.jspecify.annotations.Nullable;

/** A line as it was written. */
@Entity
public class EstimateLine {

    @Id
    @GeneratedValue(strategy = GenerationType.IDENTITY)
    private Long id;

    private int nr;
    private int place;
    private String kind;
    private String what;
    private BigDecimal quantity;
    private BigDecimal each;
    private @Nullable String partNumber;

    protected EstimateLine() {}

    EstimateLine(int nr, Line line) {
        this.nr = nr;
        this.place = line.place();
        this.kind = line.kind().name();
        this.what = line.what();
        this.quantity = line.quantity();
        this.each = line.each().amount();
        this.partNumber = line.partNumber();
    }
}
