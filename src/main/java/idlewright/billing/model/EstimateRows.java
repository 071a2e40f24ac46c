package idlewright.billing.model;

import java.util.Optional;
import org.springframework.data.repository.Repository;

public interface EstimateRows extends Repository<Estimate, Long> {

    Estimate saveAndFlush(Estimate estimate);

    Optional<Estimate> findById(Long id);
}
