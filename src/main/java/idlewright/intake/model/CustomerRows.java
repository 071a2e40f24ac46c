package idlewright.intake.model;

import org.springframework.data.repository.Repository;

import java.util.Optional;

public interface CustomerRows extends Repository<Customer, Long> {

    Customer save(Customer customer);

    Customer saveAndFlush(Customer customer);

    Optional<Customer> findById(Long id);
}
