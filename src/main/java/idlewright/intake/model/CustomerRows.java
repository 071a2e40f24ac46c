package idlewright.intake.model;

import java.util.Optional;
import org.springframework.data.repository.Repository;

public interface CustomerRows extends Repository<Customer, Long> {

    Customer save(Customer customer);

    Customer saveAndFlush(Customer customer);

    Optional<Customer> findById(Long id);
}
